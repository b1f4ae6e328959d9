// SPDX-License-Identifier: MIT
// What was recorded of late, newest first.
import { household_path } from "../../api/client";
import type { Entry } from "../../api/types";
import { Asked } from "../common/asked";
import { moment, today_of } from "../common/dates";
import { useDocument } from "../common/use_document";

const shown = 12;

export function Records({ household }: { household: string }) {
  const asked = useDocument<{ entries: Entry[]; next?: string | null }>(`${household_path(household)}/entries?limit=${shown}`);
  const today = today_of(new Date());
  return (
    <section aria-labelledby="records-name">
      <h3 id="records-name">Recorded of late</h3>
      <Asked asked={asked} what="the records">
        {({ entries }) =>
          entries.length ? (
            <ul class="lines">
              {entries.slice(0, shown).map((one) => {
                const undone = one.voided_by !== null && one.voided_by !== undefined;
                return (
                  <li key={one.id} class={undone ? "undone" : undefined}>
                    <p>{one.text}</p>
                    <p class="small">{[moment(one.at, today), one.who && `by ${one.who}`, undone && "undone"].filter(Boolean).join(", ")}</p>
                  </li>
                );
              })}
            </ul>
          ) : (
            <p>Nothing yet.</p>
          )
        }
      </Asked>
    </section>
  );
}
