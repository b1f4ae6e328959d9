// SPDX-License-Identifier: MIT
// The same figures as a table, the newest set first; and every set in full behind a tap.
import type { FinishedSet, More, SideHistory } from "./api";
import { day, mark_words, more_parts, short_day, signed_number } from "./words";

function what_words({ marks, chart }: FinishedSet): string[] {
  const changed = marks.map((mark) => `new ${mark_words[mark]}`);
  const beyond = [chart?.ewma.signal && "beyond the EWMA limit", chart?.cusum.signal && "beyond the CUSUM limit"].filter((one): one is string => Boolean(one));
  return [...changed, ...beyond];
}

function Amount({ more }: { more: More | null }) {
  const { best, range } = more_parts(more ?? { more_percent: null, low_percent: null, high_percent: null });
  return (
    <td>
      {best}
      {range && <small>{range}</small>}
    </td>
  );
}

function expected_of({ chart }: FinishedSet): More | null {
  return chart && { more_percent: chart.expected_percent, low_percent: chart.expected_low_percent, high_percent: chart.expected_high_percent };
}

export function SideTable({ history }: { history: SideHistory }) {
  const newest_first = [...history.sets].reverse();
  return (
    <div class="table-scroll side-table" role="region" aria-label="Figures of each set" tabIndex={0}>
      <table class="ledger">
        <caption>Use over what the settings let expect, with 95 % limits; expected by the sets before</caption>
        <thead>
          <tr>
            <th scope="col">Came out</th>
            <th scope="col">Seen</th>
            <th scope="col">Expected</th>
            <th scope="col">What stands out</th>
          </tr>
        </thead>
        <tbody>
          {newest_first.map((one) => (
            <tr key={one.number} class={one.chart?.ewma.signal || one.chart?.cusum.signal ? "stands-out" : undefined}>
              <th scope="row">{short_day(one.to, history.zone)}</th>
              <Amount more={one.observed} />
              {one.chart ? <Amount more={expected_of(one)} /> : <td>not told</td>}
              <td>{what_words(one).join("; ")}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const days_between = (from: string, to: string): number => Math.round((Date.parse(to) - Date.parse(from)) / 8_640_000) / 10;

export function SetsInFull({ history }: { history: SideHistory }) {
  return (
    <details>
      <summary>Every set in full</summary>
      <div class="table-scroll" role="region" aria-label="Every set in full" tabIndex={0}>
        <table class="ledger">
          <thead>
            <tr>
              {["Went in", "Days", "Ended", "Cells", "Lot", "Unit", "Settings when it went in", "Expected", "Read", "Surprise"].map((one) => (
                <th scope="col" key={one}>
                  {one}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {[...history.sets].reverse().map((one) => (
              <tr key={one.number}>
                <th scope="row">{day(one.from, history.zone)}</th>
                <td class="figure">{days_between(one.from, one.to)}</td>
                <td>{one.ended_text}</td>
                <td>{one.cell_type ?? "not noted"}</td>
                <td>{one.lot ?? "not noted"}</td>
                <td>{one.unit ?? "not noted"}</td>
                <td>{one.settings_text ?? "not noted"}</td>
                <td class="figure">{`${Math.round(one.expected_mAh)}\u00a0mAh, ${Math.round(one.expected_mA * 10) / 10}\u00a0mA`}</td>
                <td>{one.observed ? `${one.observed.readings} times, to ${Math.round(one.observed.depth_percent)}\u00a0% used` : "never"}</td>
                <td class="figure">{one.chart ? signed_number(one.chart.surprise) : ""}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
