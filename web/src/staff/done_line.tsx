// SPDX-License-Identifier: MIT
// What was just done, read out, with its undo beside it.
import { useState } from "preact/hooks";
import type { Acting } from "./act";
import { tell as words_of } from "../words/catalogue/staff";

export function DoneLine({ act }: { act: Acting }) {
  const [undoing, set_undoing] = useState(false);
  const { done, tell } = act;
  const undo = done?.undo;
  const undo_it = async (): Promise<void> => {
    set_undoing(true);
    await undo?.();
    set_undoing(false);
  };
  return (
    <div role="status" class="done-line">
      {done && (
        <div class="notice done">
          <p>{done.words}</p>
          <div class="answers">
            {undo && (
              <button type="button" disabled={undoing || act.busy} onClick={() => void undo_it()}>
                {words_of("staff.undo")}
              </button>
            )}
            <button type="button" class="plain" onClick={() => tell(null)}>
              {words_of("staff.put_away")}
            </button>
          </div>
        </div>
      )}
    </div>
  );
}
