// SPDX-License-Identifier: MIT
// The same figures as a table, the newest set first; and every set in full behind a tap.
import type { FinishedSet, More, SideHistory } from "./api";
import { day, mark_words, more_parts, short_day, signed_number } from "./words";
import { tell } from "../words/catalogue/bench";

function what_words({ marks, settings_changed, chart }: FinishedSet, zone: string): string[] {
  const changed = [
    ...marks.map((mark) => tell("bench.new_mark", { what: mark_words[mark] })),
    ...settings_changed.map(({ at }) => tell("bench.new_settings_while_in", { when: short_day(at, zone) })),
  ];
  const beyond = [chart?.ewma.signal && tell("bench.beyond_the_ewma_limit"), chart?.cusum.signal && tell("bench.beyond_the_cusum_limit")].filter((one): one is string => Boolean(one));
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
    <div class="table-scroll side-table" role="region" aria-label={tell("bench.figures_of_each_set")} tabIndex={0}>
      <table class="ledger">
        <caption>{tell("bench.use_over_what_the_settings_let")}</caption>
        <thead>
          <tr>
            <th scope="col">{tell("bench.came_out")}</th>
            <th scope="col">{tell("bench.seen_state")}</th>
            <th scope="col">{tell("bench.expected_head")}</th>
            <th scope="col">{tell("bench.what_stands_out")}</th>
          </tr>
        </thead>
        <tbody>
          {newest_first.map((one) => (
            <tr key={one.number} class={one.chart?.ewma.signal || one.chart?.cusum.signal ? "stands-out" : undefined}>
              <th scope="row">{short_day(one.to, history.zone)}</th>
              <Amount more={one.observed} />
              {one.chart ? <Amount more={expected_of(one)} /> : <td>{tell("bench.not_told")}</td>}
              <td>{what_words(one, history.zone).join("; ")}</td>
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
      <summary>{tell("bench.every_set_in_full")}</summary>
      <div class="table-scroll" role="region" aria-label={tell("bench.every_set_in_full")} tabIndex={0}>
        <table class="ledger">
          <thead>
            <tr>
              {[tell("bench.went_in"), tell("bench.days"), tell("bench.ended"), tell("bench.cells"), tell("bench.lot"), tell("bench.unit"), tell("bench.settings_when_it_went_in"), tell("bench.expected_head"), tell("bench.read"), tell("bench.surprise")].map((one) => (
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
                <td>{one.cell_type ?? tell("bench.not_noted")}</td>
                <td>{one.lot ?? tell("bench.not_noted")}</td>
                <td>{one.unit ?? tell("bench.not_noted")}</td>
                <td>
                  {one.settings_text ?? tell("bench.not_noted")}
                  {one.settings_changed.map(({ at, settings_text }) => <small key={at}>{tell("bench.settings_from_then", { when: day(at, history.zone), settings: settings_text })}</small>)}
                </td>
                <td class="figure">{tell("bench.mah_ma", { mAh: Math.round(one.expected_mAh), mA: Math.round(one.expected_mA * 10) / 10 })}</td>
                <td>{one.observed ? tell("bench.times_to_used", { readings: one.observed.readings, percent: Math.round(one.observed.depth_percent) }) : tell("bench.never")}</td>
                <td class="figure">{one.chart ? signed_number(one.chart.surprise) : ""}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
