// SPDX-License-Identifier: MIT
// Two forecasts side by side, "as recorded" and "with what you typed in", with the same words in the same order.
// Neither is marked, ranked or coloured: that is the clinician's to judge.
import type { Forecast, Quantiles, Side, SideBySide, SideForecast } from "../api/types";
import { alarm_sentence } from "../state/side_view";
import { zone_of } from "../time/place";
import { calendar_day, moment_words } from "../words/moments";
import { side_name, window_words } from "../words/names";
import { phrase_of } from "../words/phrases";
import { DisclaimerHere } from "./foot";
import { Window } from "./window";
import { tell } from "../words/catalogue/plan";

const shown = 7;

type Lasts = "remaining_h" | "fresh_set_h";

/// In the same unit on both hands, the one that the shorter needs; rounded down.
function range_words({ as_recorded, as_typed_in }: SideBySide, side: Side, what: Lasts, { p05, p95 }: Quantiles<number>): string {
  const shortest = Math.min(...[as_recorded, as_typed_in].map((one) => one.sides[side][what]?.p05 ?? Infinity));
  const [message, hours] = shortest < 72 ? (["beside.hours", 1] as const) : (["beside.days", 24] as const);
  return tell(message, { from: Math.floor(p05 / hours), to: Math.floor(p95 / hours) });
}

function Strip({ side, told, zone }: { side: Side; told: SideForecast; zone: string }) {
  const nights = (told.nights ?? []).slice(0, shown);
  if (!nights.length) return null;
  const said = nights.map((night) => `${night.tonight ? tell("beside.tonight") : calendar_day(new Date(night.from), night.zone ?? zone)} ${window_words[night.window]}`);
  return (
    <>
      <p class="unseen">{tell("beside.coming_nights", { said: said.join(", ") })}</p>
      <p class="windows small-windows" aria-hidden="true">
        {nights.map((night) => <Window key={night.from} side={side} state={night.window} tonight={night.tonight ?? false} />)}
      </p>
    </>
  );
}

interface OneProps {
  answer: SideBySide;
  forecast: Forecast;
  side: Side;
  title: string;
  now: Date;
}

function One({ answer, forecast, side, title, now }: OneProps) {
  const told = forecast.sides[side];
  const zone = zone_of(forecast);
  const alarm = Boolean(told.warned_at ?? told.stopped_at);
  const phrase = phrase_of(told, told.change_by ? moment_words(new Date(told.change_by), now, zone) : null);
  return (
    <section class="one" aria-label={`${side_name[side]}, ${title.toLowerCase()}`}>
      <h4>{title}</h4>
      <p class="strong">{alarm ? alarm_sentence(side, told, zone, now) : phrase.words}</p>
      {!alarm && phrase.limit && <p>{phrase.limit}</p>}
      {!alarm && <Strip side={side} told={told} zone={zone} />}
      {!alarm && told.remaining_h && <p>{tell("beside.the_cells_in_it_more", { range: range_words(answer, side, "remaining_h", told.remaining_h) })}</p>}
      {!alarm && told.fresh_set_h && <p>{tell("beside.fresh_cells", { range: range_words(answer, side, "fresh_set_h", told.fresh_set_h) })}</p>}
      {!alarm && told.because?.map((reason) => <p class="small" key={reason}>{reason}</p>)}
    </section>
  );
}

export function Beside({ answer, sides, now }: { answer: SideBySide; sides: Side[]; now: Date }) {
  return (
    <section class="card besides" aria-labelledby="beside-name">
      <h2 id="beside-name" tabIndex={-1}>
        {tell("beside.what_follows")}
      </h2>
      <p>{answer.statement}</p>
      <DisclaimerHere />
      {sides.map((side) => (
        <div key={side}>
          <h3>{side_name[side]}</h3>
          <div class="beside">
            <One answer={answer} forecast={answer.as_recorded} side={side} title={tell("beside.as_recorded")} now={now} />
            <One answer={answer} forecast={answer.as_typed_in} side={side} title={tell("beside.with_what_you_typed_in")} now={now} />
          </div>
        </div>
      ))}
      <p class="small">{tell("beside.hours_and_days_nine_times_in")}</p>
    </section>
  );
}
