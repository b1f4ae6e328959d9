// SPDX-License-Identifier: MIT
// A side against the other, and against itself before its settings were changed: each with its range on one rule.
import type { SideHistory, More } from "./api";
import { Span, rule_of } from "./span";
import { day, more_words } from "./words";

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
      <h2 id="compared">Against the other side, and before against after</h2>
      {!left_against_right && !settings_changes.length ? (
        <p class="text">Not enough sets were read yet to compare the sides, or a time before with one after.</p>
      ) : (
        <div class="table-scroll" role="region" aria-label="Comparisons" tabIndex={0}>
          <table class="ledger compared">
          <caption>A difference of nought is what follows if the records are true: expectation has followed the settings</caption>
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">Difference</th>
              <th scope="col">In words</th>
            </tr>
          </thead>
          <tbody>
            {left_against_right && <Row head="Left over right" value={left_against_right} text={left_against_right.text} rule={rule} />}
            {settings_changes.map((one) => <Row key={one.at} head={`Settings of ${day(one.at, zone)}, after over before`} value={one} text={one.text} rule={rule} />)}
          </tbody>
        </table>
        </div>
      )}
    </section>
  );
}
