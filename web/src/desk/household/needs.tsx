// SPDX-License-Identifier: MIT
// What it needs until when, and when it was last counted.
import { Refused } from "../../access/refused";
import { item_name } from "../../words/names";
import { date_words, days_since, from_today, moment } from "../common/dates";
import { count_of, list_words, of_item, packs, why_words } from "../common/words";
import { use_asking, waits_for_count } from "./asking";
import type { PartProps } from "./beside";

function days_words(days: { p05: number; p95: number } | null): string {
  return days ? `${Math.floor(days.p05)} to ${Math.floor(days.p95)} days` : "no forecast";
}

export function Needs({ desk: { row }, today, changed }: PartProps) {
  const { busy, said, ask } = use_asking(changed);
  const days = row.last_count_at ? days_since(row.last_count_at, today) : null;
  const asked_at = waits_for_count(row, today);
  if (row.closed_at) return null;
  return (
    <section aria-labelledby="needs-name">
      <h3 id="needs-name">What it needs</h3>
      {row.items.length === 0 && <p>Not computed yet.</p>}
      {row.items.length > 0 && (
        <table class="numbers">
          <thead>
            <tr>
              <th scope="col">Item</th>
              <th scope="col">Deliver by</th>
              <th scope="col">Bring</th>
              <th scope="col">In the house, 5 to 95 %</th>
            </tr>
          </thead>
          <tbody>
            {row.items.map((one) => (
              <tr key={one.item}>
                <th scope="row">{item_name(one.item)}</th>
                <td>{one.deliver_by ? `${date_words(one.deliver_by, today)}, ${from_today(one.deliver_by, today)}` : "later than the weeks planned"}</td>
                <td>{one.packs ? `${packs(one.packs)}, ${of_item(one.pieces, one.item)}` : "nothing"}</td>
                <td>
                  {one.please_count ? "please count" : days_words(one.days)}
                  {one.in_house !== undefined && <small>{of_item(one.in_house, one.item)}</small>}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {row.cannot_be_served.map((one) => (
        <p class="line-urgent" key={one.item}>
          <span class="strong">{`The plan cannot bring ${packs(one.packs)} of ${one.item} by ${date_words(one.deliver_by, today)}`}</span>
          {`: ${list_words(one.reasons.map((why) => why_words[why]))}. `}
          {row.stop !== "" && <a href={`#desk/short?${new URLSearchParams({ stop: row.stop ?? row.household })}`}>What would help</a>}
        </p>
      ))}
      <Refused said={said} />
      <div class="answers">
        <p>{days === null ? "Never counted." : `Last counted ${days <= 0 ? "today" : `${count_of(days, "day")} ago`}.`}</p>
        {asked_at ? (
          <p>{`Asked for a count ${moment(asked_at, today)}.`}</p>
        ) : (
          <button type="button" disabled={busy} onClick={() => void ask(row.household)}>
            Ask for a count
          </button>
        )}
      </div>
    </section>
  );
}
