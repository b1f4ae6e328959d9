// SPDX-License-Identifier: MIT
// Behind a tap: why the forecast is what it is, which cells are in, and the range chart, which is only fetched now.
import type { Forecast, Side, SideForecast } from "../api/types";
import { RangeChart } from "../chart/range_chart";
import type { Desk } from "../state/desk";
import { zone_of } from "../time/place";
import { moment_words } from "../words/moments";
import { lot_words, side_name } from "../words/names";
import { tell } from "../words/catalogue/first";

interface Props {
  desk: Desk;
  side: Side;
  forecast: Forecast;
}

function cells_words(told: SideForecast, zone: string, now: Date): string {
  const lot = lot_words(told.cells?.lot);
  if (!told.cells_since) return tell("reasons.these_cells_in", { lot });
  return tell("reasons.these_cells_since", { lot, moment: moment_words(new Date(told.cells_since), now, zone) });
}

function range_words(told: SideForecast, zone: string, now: Date): string | null {
  const end = told.cutoff_at;
  if (!end) return null;
  const say = (at: string): string => moment_words(new Date(at), now, zone);
  return tell("reasons.nine_times_in_ten_they_run", { from: say(end.p05), to: say(end.p95) });
}

export function Reasons({ desk, side, forecast }: Props) {
  const told = forecast.sides[side];
  const { now } = desk.value;
  const range = range_words(told, zone_of(forecast), now);
  return (
    <div class="reasons">
      {Boolean(told.because?.length) && (
        <ul>
          {told.because?.map((reason) => <li key={reason}>{reason}</li>)}
        </ul>
      )}
      <p>{cells_words(told, zone_of(forecast), now)}</p>
      {range && <p>{range}</p>}
      <RangeChart household={desk.name} side={side} zone={zone_of(forecast)} now={now} as_of={forecast.as_of} />
    </div>
  );
}

interface ButtonProps {
  side: Side;
  told: SideForecast;
  open: boolean;
  toggle: () => void;
}

export function ReasonsButton({ side, told, open, toggle }: ButtonProps) {
  const words = told.phrase === "no_forecast" ? tell("reasons.why") : tell("reasons.how_sure");
  return (
    <button class="plain how" type="button" aria-expanded={open} onClick={toggle}>
      {open ? tell("reasons.close") : words}
      <span class="unseen">{tell("reasons.range_and_reasons", { side: side_name[side] })}</span>
    </button>
  );
}
