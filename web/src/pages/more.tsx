// SPDX-License-Identifier: MIT
// "More": what this page does not know, and what to keep to. And how it looks on this phone.
import { useState } from "preact/hooks";
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

export function More({ cautions, back }: { cautions: string[]; back: () => void }) {
  const [look, set_look] = useState<string>(theme());
  const [who, set_who] = useState(kept.get("who") ?? "");
  return (
    <Screen title="What to keep to" back={back}>
      <p class="strong">{disclaimer}</p>
      <ul class="cautions">
        {[...more, handling, reminders, ...cautions].map((caution) => <li key={caution}>{caution}</li>)}
      </ul>
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
