// SPDX-License-Identifier: MIT
// A side whose forecast is too old to go by: what to do all the same. How many cells, which, and the buttons to record it,
// which work without a signal too. Both sides read alike, and nothing that could reassure is said again.
import type { Forecast, Side, SideForecast } from "../api/types";
import type { Desk } from "../state/desk";
import { cells_to_take } from "../state/cells_to_take";
import { open_screen } from "../state/screen";
import { asked } from "../state/side_view";
import { zone_of } from "../time/place";
import { last_words } from "../words/last_recorded";
import { age_words, moment_words } from "../words/moments";
import { after_colon, side_name } from "../words/names";
import { phrase_of } from "../words/phrases";
import { take_words } from "../words/take";
import { DisclaimerHere } from "./foot";
import { tell } from "../words/catalogue/first";

const asked_for_change = (told: SideForecast): boolean => asked(told, "wrong_cells") || (!told.beyond && phrase_of(told).act);

/// That it asked for a change is said again, with the date that it meant: "tonight" of yesterday is no word for today.
function said_then(told: SideForecast, side: Side, now: Date, zone: string): string | null {
  if (asked(told, "wrong_cells")) return tell("old_view.it_already_said_the_cells_in");
  if (told.beyond) return tell("old_view.it_does_not_reach_to_tonight");
  if (told.phrase === "change_before_tonight" && told.change_by)
    return tell("old_view.it_already_said_by", { side, moment: moment_words(new Date(told.change_by), now, zone) });
  if (asked_for_change(told)) return tell("old_view.it_already_said", { words: phrase_of({ phrase: told.phrase }).words.toLowerCase() });
  if (told.change_by && Date.parse(told.change_by) < now.getTime()) return tell("old_view.the_time_to_change_is_past");
  return null;
}

export function OldView({ desk, side, forecast }: { desk: Desk; side: Side; forecast: Forecast }) {
  const told = forecast.sides[side];
  const { now, household } = desk.value;
  const computed = new Date(forecast.as_of);
  const age = `${moment_words(computed, now, zone_of(forecast))}, ${age_words(now.getTime() - computed.getTime())}`;
  const then = said_then(told, side, now, zone_of(forecast));
  const take = take_words(told.to_change ?? cells_to_take(household, forecast), side);
  return (
    <>
      <p class="sentence">{tell("old_view.old_forecast")}</p>
      {then && <p class="strong said_then">{then}</p>}
      <DisclaimerHere />
      <p>{tell("old_view.too_old_to_go_by_in")}</p>
      <p>{asked_for_change(told) ? take : tell("old_view.if_you_change_them", { take: after_colon(take) })}</p>
      <p class="small">{tell("old_view.computed", { age, last: last_words(told, zone_of(forecast), now) })}</p>
      <div class="answers">
        <button type="button" onClick={() => open_screen("change", { side })}>
          {tell("side_card.cells_changed", { side: side_name[side] })}
        </button>
        <button type="button" onClick={() => open_screen("reading", { side })}>
          {tell("old_view.gauge", { side: side_name[side] })}
        </button>
      </div>
    </>
  );
}
