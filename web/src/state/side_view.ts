// SPDX-License-Identifier: MIT
// What one side's card may show, in the order that protects people: after a warning or a stop there is one sentence, whether
// the service has it yet or not; what is on its way hides the forecast it will change, but for an order to change: that stands
// until a change of these cells is on its way too; an old forecast says so first.
import type { Forecast, Side, SideForecast } from "../api/types";
import { clock, day_of } from "../words/moments";
import { after_colon } from "../words/names";
import { phrase_of } from "../words/phrases";
import { changed, with_its_alarms } from "./alarms";
import { concerns, type Intention } from "./intention";
import { tell } from "../words/catalogue/first";

export type SideView = "waiting" | "alarm" | "old" | "order" | "forecast";

const old_after_ms = 12 * 3_600_000;
const day_ms = 24 * 3_600_000;

export function is_old(forecast: Forecast, now: Date): boolean {
  const limit = Date.parse(forecast.as_of) + old_after_ms;
  const told = forecast.old_after ? Date.parse(forecast.old_after) : limit;
  return now.getTime() >= Math.min(limit, told);
}

export function view_of(forecast: Forecast, side: Side, waiting: Intention[], now: Date): SideView {
  const told = with_its_alarms(forecast.sides[side], side, waiting);
  if (told.warned_at || told.stopped_at) return "alarm";
  const on_its_way = waiting.some((one) => concerns(one, side));
  if (on_its_way && !order_stands(forecast.sides[side], side, waiting)) return "waiting";
  if (is_old(forecast, now)) return "old";
  return on_its_way ? "order" : "forecast";
}

/// The service says "at 03:10"; here the day stands with it, by the clock of the one who reads. A stop goes before a warning.
export function alarm_sentence(side: Side, told: SideForecast, zone: string, now: Date | null): string {
  const at = new Date(told.stopped_at ?? told.warned_at ?? 0);
  return tell(told.stopped_at ? "side_view.stopped" : "side_view.warned", { side, clock: clock(at, zone), day: day_of(at, now, zone) });
}

/// A change of a side that is not due asks once more whether it was that side.
export function is_due(told: SideForecast, now: Date): boolean {
  if (told.warned_at || told.stopped_at) return true;
  if (told.phrase !== "expected_to_last_tonight") return true;
  return Boolean(told.change_by) && Date.parse(told.change_by ?? "") - now.getTime() < day_ms;
}

export function asked(told: SideForecast, code: string): boolean {
  return told.questions?.some((question) => question.code === code) ?? false;
}

/// Cells that have no forecast are to be changed as surely as spent ones.
export function calls_for_change(told: SideForecast): boolean {
  return phrase_of(told).act || asked(told, "wrong_cells");
}

/// What else was noted can only make it more urgent here: what makes it less so is the service's to reckon.
export function order_stands(told: SideForecast, side: Side, waiting: readonly Intention[]): boolean {
  return calls_for_change(told) && !told.beyond && !changed(told, side, waiting);
}

/// Whether a side stands in the alarm colour. An old forecast never does: both sides then read alike.
export function asks_for_act(forecast: Forecast, side: Side, waiting: Intention[], now: Date): boolean {
  const view = view_of(forecast, side, waiting, now);
  return view === "alarm" || view === "order" || (view === "forecast" && calls_for_change(forecast.sides[side]));
}

export interface Line {
  side: Side;
  words: string;
  act: boolean;
}

function line_of(forecast: Forecast, side: Side, waiting: Intention[], now: Date): Line & { rank: number } {
  const told = forecast.sides[side];
  const act = asks_for_act(forecast, side, waiting, now);
  switch (view_of(forecast, side, waiting, now)) {
    case "waiting":
      return { side, act, words: tell("side_view.noted_not_sent_yet"), rank: 3 };
    case "old":
      if (calls_for_change(told) && !told.beyond) return { side, act, words: tell("side_view.old_forecast_that_asked"), rank: 1 };
      return { side, act, words: tell("side_view.old_forecast"), rank: 2 };
    case "alarm":
      return { side, act, words: tell("side_view.change_now"), rank: 0 };
    case "order":
    case "forecast": {
      if (asked(told, "wrong_cells")) return { side, act, words: tell("side_view.no_forecast_put_in_new_cells"), rank: 1 };
      const rank = told.phrase === "change_now" ? 0 : act ? 1 : told.phrase === "no_forecast" ? 2 : 4;
      return { side, act, words: after_colon(phrase_of({ phrase: told.phrase }).words), rank };
    }
  }
}

/// Each side with its phrase, what is to be done first.
export function lines_of(forecast: Forecast, waiting: Intention[], now: Date): Line[] {
  const lines = (["left", "right"] as const).map((side) => line_of(forecast, side, waiting, now));
  return lines.sort((a, b) => a.rank - b.rank).map(({ side, words, act }) => ({ side, words, act }));
}
