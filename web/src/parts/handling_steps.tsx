// SPDX-License-Identifier: MIT
// The unit's steps from its profile, once a technician has approved them; until then one sentence and nothing else.
import { useEffect, useState } from "preact/hooks";
import { get } from "../api/client";
import type { Handling, Household, StimulatorProfile } from "../api/types";
import { unit_in_use } from "../state/units";
import { handling } from "../words/cautions";

const told_before = new Map<string, Handling | null>();

function useSteps(household: Household | null): Handling | null {
  const stimulator = unit_in_use(household)?.stimulator ?? "";
  const [told, set_told] = useState(told_before.get(stimulator) ?? null);
  useEffect(() => {
    set_told(told_before.get(stimulator) ?? null);
    if (!stimulator || told_before.has(stimulator)) return undefined;
    let here = true;
    void get<StimulatorProfile>(`/profiles/stimulators/${encodeURIComponent(stimulator)}`).then((answer) => {
      if (!("got" in answer)) return;
      told_before.set(stimulator, answer.got.handling ?? null);
      if (here) set_told(answer.got.handling ?? null);
    });
    return () => {
      here = false;
    };
  }, [stimulator]);
  return told?.approved === true && told.source && told.date && told.steps?.length ? told : null;
}

/// `otherwise`: the sentence that stands until steps are approved; without it, nothing does.
export function HandlingSteps({ household, otherwise = true }: { household: Household | null; otherwise?: boolean }) {
  const told = useSteps(household);
  if (!told) return otherwise ? <p class="handling">{handling}</p> : null;
  return (
    <div class="handling">
      <ol>
        {told.steps?.map((step) => <li key={step}>{step}</li>)}
      </ol>
      <p class="small">{`${told.source}, ${told.date}.`}</p>
    </div>
  );
}
