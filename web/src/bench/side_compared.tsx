// SPDX-License-Identifier: MIT
// A side against the other, and against itself before its settings were changed: each with its range on one rule.
import type { SideHistory, More } from "./api";
import { Span, rule_of } from "./span";
import { day, more_words } from "./words";
import { tell } from "../words/catalogue/bench";

function Row({ head, value, text, rule }: { head: string; value: More; text: string; rule: { from: number; to: number } }) {
  return (
    <tr>
      <th scope="row">{head}</th>
      <td>
        <Span low={value.low_percent} best={value.more_percent} high={value.high_percent} {...rule} />
        {more_words(value)}
      </td>
      <td>{text}</td>
    </tr>
  );
}

export function Compared({ history }: { history: SideHistory }) {
  const { left_against_right, settings_changes, zone } = history;
  const rule = rule_of([...(left_against_right ? [left_against_right] : []), ...settings_changes]);
  return (
    <section aria-labelledby="compared">
      <h2 id="compared">{tell("bench.against_the_other_side_and_before")}</h2>
      {!left_against_right && !settings_changes.length ? (
        <p class="text">{tell("bench.not_enough_sets_were_read_yet")}</p>
      ) : (
        <div class="table-scroll" role="region" aria-label={tell("bench.comparisons")} tabIndex={0}>
          <table class="ledger compared">
          <caption>{tell("bench.a_difference_of_nought_is_what")}</caption>
          <thead>
            <tr>
              <th scope="col">{tell("bench.what")}</th>
              <th scope="col">{tell("bench.difference")}</th>
              <th scope="col">{tell("bench.in_words")}</th>
            </tr>
          </thead>
          <tbody>
            {left_against_right && <Row head={tell("bench.left_over_right")} value={left_against_right} text={left_against_right.text} rule={rule} />}
            {settings_changes.map((one) => <Row key={one.at} head={tell("bench.settings_of_after_over_before", { when: day(one.at, zone) })} value={one} text={one.text} rule={rule} />)}
          </tbody>
        </table>
        </div>
      )}
    </section>
  );
}
