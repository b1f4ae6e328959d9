// SPDX-License-Identifier: MIT
// The one list to call after a recall: who has it in a side first, then who has nothing else.
import { household_path } from "../../api/client";
import { Refused } from "../../access/refused";
import { Asked } from "../common/asked";
import { moment, today_of } from "../common/dates";
import { say_done } from "../common/done";
import { LeftOut } from "../common/left_out";
import { useDocument } from "../common/use_document";
import { useSend } from "../common/use_send";
import { count_of, list_words, of_item } from "../common/words";
import type { RecallCall, RecallCalls } from "../lot_types";

interface Recorded {
  entry: { id: string | number };
}

function call_words({ sides, quantity, on_its_way, did_not_come, usable_left }: RecallCall, item: string): string {
  const holds = [sides.length > 0 && `in the ${list_words(sides)} ${sides.length > 1 ? "sides" : "side"}`, quantity > 0 && `${of_item(quantity, item)} in the house`, on_its_way > 0 && `${of_item(on_its_way, item)} on the way there`, did_not_come > 0 && `${of_item(did_not_come, item)} that did not come: with the carrier perhaps, or at a neighbour's`].filter(Boolean) as string[];
  return `${list_words(holds)}; ${usable_left > 0 ? `${of_item(usable_left, item)} of other lots` : `no other ${item} there`}`;
}

export function Calls({ lot, item, called }: { lot: string; item: string; called: () => void }) {
  const query = new URLSearchParams({ lot, item });
  const asked = useDocument<RecallCalls>(`/lots/recalls/calls?${query}`);
  const { busy, said, send } = useSend();
  const today = today_of(new Date());
  const again = (): void => {
    asked.again();
    called();
  };
  const undo = async (household: string, entry: string | number): Promise<string | null> => {
    if (!(await send(`${household_path(household)}/voids`, { entry }))) return null;
    again();
    return `${household} is to be called again.`;
  };
  const call = async ({ household }: RecallCall): Promise<void> => {
    const answer = await send<Recorded>(`${household_path(household)}/recall-calls`, { item, lot });
    if (!answer) return;
    again();
    say_done(`Recorded: ${household} was called.`, () => undo(household, answer.entry.id));
  };
  return (
    <Asked asked={asked} what="the list to call">
      {({ calls, left_out }) => (
        <>
          <h3>{`To call: ${calls.filter((one) => !one.called_at).length} of ${count_of(calls.length, "home")}`}</h3>
          <LeftOut left_out={left_out} />
          <Refused said={said} />
          {calls.length === 0 && <p>No home holds it, by what was recorded.</p>}
          <ol class="lines calls">
            {calls.map((one) => (
              <li key={one.household}>
                <p>
                  <a class={one.called_at ? undefined : "strong"} href={`#desk?${new URLSearchParams({ household: one.household })}`}>
                    {one.household}
                  </a>
                  {one.area && <small>{[one.area, one.stop].filter(Boolean).join(", ")}</small>}
                </p>
                <p>{call_words(one, item)}</p>
                {one.called_at ? (
                  <p class="small">{`Called ${moment(one.called_at, today)}${one.called_by ? `, ${one.called_by}` : ""}`}</p>
                ) : (
                  <button type="button" class="small-act" disabled={busy} onClick={() => void call(one)}>
                    Called<span class="unseen">{`: ${one.household}`}</span>
                  </button>
                )}
              </li>
            ))}
          </ol>
          <p>
            <a href={`/api/v1/lots/recalls/calls.csv?${query}`} download>
              This list as a CSV file
            </a>
          </p>
        </>
      )}
    </Asked>
  );
}
