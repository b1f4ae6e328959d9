// SPDX-License-Identifier: MIT
// The unit's steps from its profile, once a technician has approved them; until then one sentence and nothing else.
import type { Household } from "../api/types";
import { useProfile } from "../state/unit_profile";
import { handling } from "../words/cautions";

/// `otherwise`: the sentence that stands until steps are approved; without it, nothing does.
export function HandlingSteps({ household, otherwise = true }: { household: Household | null; otherwise?: boolean }) {
  const told = useProfile(household)?.handling;
  const may_be_shown = told?.approved === true && told.source && told.date && told.steps?.length;
  if (!may_be_shown) return otherwise ? <p class="handling">{handling}</p> : null;
  return (
    <div class="handling">
      <ol>
        {told.steps?.map((step) => <li key={step}>{step}</li>)}
      </ol>
      <p class="small">{`${told.source}, ${told.date}.`}</p>
    </div>
  );
}
