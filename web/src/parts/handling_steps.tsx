// SPDX-License-Identifier: MIT
// The unit's steps from its profile, once a technician has approved them; until then one sentence and nothing else.
import type { Household } from "../api/types";
import { useProfile } from "../state/unit_profile";
import { handling } from "../words/cautions";

export function HandlingSteps({ household }: { household: Household | null }) {
  const told = useProfile(household)?.handling;
  const may_be_shown = told?.approved === true && told.source && told.date && told.steps?.length;
  if (!may_be_shown) return <p class="handling">{handling}</p>;
  return (
    <div class="handling">
      <ol>
        {told.steps?.map((step) => <li key={step}>{step}</li>)}
      </ol>
      <p class="small">{`${told.source}, ${told.date}.`}</p>
    </div>
  );
}
