// SPDX-License-Identifier: MIT
// "More": what this page does not know, and what to keep to. And how it looks on this phone.
import { useEffect, useState } from "preact/hooks";
import { get } from "../api/client";
import type { Handling, Household, StimulatorProfile } from "../api/types";
import { unit_in_use } from "../forms/reading_model";
import { Choices, Input } from "../parts/fields";
import { Screen } from "../parts/screen";
import { kept } from "../state/kept";
import { set_theme, theme } from "../state/theme";
import { disclaimer, handling, more, reminders } from "../words/cautions";

const themes = [
  { value: "auto", words: "As the phone" },
  { value: "light", words: "Light" },
  { value: "dark", words: "Dark" },
];

interface Props {
  household: Household | null;
  cautions: string[];
  back: () => void;
}

/// The unit's steps from its profile, once a technician has approved them; until then one sentence and nothing else.
function HandlingSteps({ household }: { household: Household | null }) {
  const stimulator = unit_in_use(household)?.stimulator;
  const [told, set_told] = useState<Handling | null>(null);
  useEffect(() => {
    set_told(null);
    if (!stimulator) return undefined;
    let here = true;
    void get<StimulatorProfile>(`/profiles/stimulators/${encodeURIComponent(stimulator)}`).then((answer) => {
      if (here && "got" in answer) set_told(answer.got.handling ?? null);
    });
    return () => {
      here = false;
    };
  }, [stimulator]);
  const steps = told?.approved === true && told.source && told.date ? (told.steps ?? []) : [];
  if (!steps.length) return <p class="handling">{handling}</p>;
  return (
    <div class="handling">
      <ol>
        {steps.map((step) => <li key={step}>{step}</li>)}
      </ol>
      <p class="small">{`${told?.source}, ${told?.date}.`}</p>
    </div>
  );
}

export function More({ household, cautions, back }: Props) {
  const [look, set_look] = useState<string>(theme());
  const [who, set_who] = useState(kept.get("who") ?? "");
  return (
    <Screen title="What to keep to" back={back}>
      <p class="strong">{disclaimer}</p>
      <ul class="cautions">
        {[...more, reminders, ...cautions].map((caution) => <li key={caution}>{caution}</li>)}
      </ul>
      <h2>Handling the unit</h2>
      <HandlingSteps household={household} />
      <h2>This phone</h2>
      <Choices
        name="theme" legend="Light or dark" value={look} choices={themes}
        onChange={(value) => {
          set_theme(value);
          set_look(value);
        }}
      />
      <Input
        name="who" legend="Name of this phone in the records, if you like" value={who} max_length={40}
        onChange={(value) => {
          kept.set("who", value.trim() || null);
          set_who(value);
        }}
      />
    </Screen>
  );
}
