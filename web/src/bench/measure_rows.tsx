// SPDX-License-Identifier: MIT
// Rows of measurements: a current within the burst at an amplitude; what the gauge showed at a voltage. The last row that
// is filled brings the next one.
import { Fault } from "../parts/fault";
import type { Side } from "../api/types";
import type { BurstRow, GaugeRow } from "./api_profiles";
import { tell } from "../words/catalogue/bench";

interface Cell {
  label: string;
  value: string;
  error: string | undefined;
  set: (value: string) => void;
}

function NumberCell({ label, value, error, set }: Cell) {
  return (
    <td class={error ? "wrong" : undefined}>
      <input aria-label={label} inputMode="decimal" autocomplete="off" value={value} aria-invalid={Boolean(error)} title={error} onInput={(event) => set(event.currentTarget.value)} />
      {error && <Fault error={error} />}
    </td>
  );
}

type Wrong = (place: string) => string | undefined;

const changed = <T,>(rows: readonly T[], index: number, change: Partial<T>): T[] => rows.map((row, at) => (at === index ? { ...row, ...change } : row));
/// Rows that are empty are not sent: the place of a row among those that are.
const sent_index = <T extends object>(rows: readonly T[], index: number, is_filled: (row: T) => boolean): number => rows.slice(0, index).filter(is_filled).length;

export function BurstRows({ rows, set, wrong }: { rows: BurstRow[]; set: (rows: BurstRow[]) => void; wrong: Wrong }) {
  const is_filled = (row: BurstRow): boolean => Boolean(row.amplitude.trim() || row.current_mA.trim());
  const place = (index: number, name: string): string => `/bursts/${sent_index(rows, index, is_filled)}/${name}`;
  return (
    <table class="entry-table">
      <caption>{tell("bench.current_within_the_burst_at_several")}</caption>
      <thead>
        <tr>
          <th scope="col">{tell("bench.side")}</th>
          <th scope="col">{tell("bench.amplitude")}</th>
          <th scope="col">{tell("bench.current_ma")}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row, index) => (
          <tr key={index}>
            <td>
              <select aria-label={tell("bench.side_row", { index: index + 1 })} value={row.side} onChange={(event) => set(changed(rows, index, { side: event.currentTarget.value as Side }))}>
                <option value="left">{tell("bench.left")}</option>
                <option value="right">{tell("bench.right")}</option>
              </select>
            </td>
            <NumberCell label={tell("bench.amplitude_row", { index: index + 1 })} value={row.amplitude} error={is_filled(row) ? wrong(place(index, "amplitude")) : undefined} set={(amplitude) => set(changed(rows, index, { amplitude }))} />
            <NumberCell label={tell("bench.current_in_ma_row", { index: index + 1 })} value={row.current_mA} error={is_filled(row) ? wrong(place(index, "current_mA")) : undefined} set={(current_mA) => set(changed(rows, index, { current_mA }))} />
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={3}>
            <button type="button" onClick={() => set([...rows, { side: rows.at(-1)?.side ?? "left", amplitude: "", current_mA: "" }])}>
              {tell("bench.one_more_amplitude")}
            </button>
          </td>
        </tr>
      </tfoot>
    </table>
  );
}

export function GaugeRows({ rows, set, wrong }: { rows: GaugeRow[]; set: (rows: GaugeRow[]) => void; wrong: Wrong }) {
  const is_filled = (row: GaugeRow): boolean => Boolean(row.set_V.trim() || row.percent.trim());
  const place = (index: number, name: string): string => `/gauge/${sent_index(rows, index, is_filled)}/${name}`;
  return (
    <table class="entry-table">
      <caption>{tell("bench.what_the_gauge_showed_at_voltages")}</caption>
      <thead>
        <tr>
          <th scope="col">{tell("bench.set_v")}</th>
          <th scope="col">{tell("bench.gauge")}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row, index) => (
          <tr key={index}>
            <NumberCell label={tell("bench.voltage_of_the_set_row", { index: index + 1 })} value={row.set_V} error={is_filled(row) ? wrong(place(index, "set_V")) : undefined} set={(set_V) => set(changed(rows, index, { set_V }))} />
            <NumberCell label={tell("bench.gauge_in_percent_row", { index: index + 1 })} value={row.percent} error={is_filled(row) ? wrong(place(index, "percent")) : undefined} set={(percent) => set(changed(rows, index, { percent }))} />
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={2}>
            <button type="button" onClick={() => set([...rows, { set_V: "", percent: "" }])}>
              {tell("bench.one_more_voltage")}
            </button>
          </td>
        </tr>
      </tfoot>
    </table>
  );
}
