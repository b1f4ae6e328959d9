// SPDX-License-Identifier: MIT
// A stay away from home, in whole days: the service answers with what to pack.
import type { Draft } from "../state/draft";
import { is_zone, place_words } from "../time/place";
import { moment_of, rfc3339 } from "../time/zone";
import { date_words } from "../words/moments";
import type { Context, FieldOfPlace, Model } from "./context";
import { tell } from "../words/catalogue/record";

export const away_fields: FieldOfPlace = { "/from": "from", "/to": "to", "/zone": "zone", "/changing_times": "changing_time" };

const is_day = (text: string | undefined): text is string => /^\d{4}-\d\d-\d\d$/.test(text ?? "");

function moment(day: string, hour: number, minute: number, zone: string): string {
  const [year, month, date] = day.split("-").map(Number) as [number, number, number];
  return rfc3339(moment_of({ year, month, day: date, hour, minute }, zone), zone);
}

/// The clocks of the place, where they are not those at home, and when cells can be changed there.
function stay_clock(draft: Draft, errors: Record<string, string>): { body: Record<string, unknown>; words: string } {
  const zone = draft.clocks === "other" ? (draft.zone ?? "").trim() : "";
  if (draft.clocks === "other" && !is_zone(zone)) errors.zone = tell("away_model.write_the_zone_as_continent_and");
  const time = draft.changing_time ?? "";
  return {
    body: { ...(zone && { zone }), ...(time && { changing_times: [time] }) },
    words: `${zone && tell("away_model.by_the_clock", { place: place_words(zone, "") })}${time && tell("away_model.cells_changed_at", { time })}`,
  };
}

export function away_model(draft: Draft, context: Context): Model {
  const { from, to } = draft;
  const errors: Record<string, string> = {};
  if (!is_day(from)) errors.from = tell("away_model.give_the_day_of_leaving");
  if (!is_day(to)) errors.to = tell("away_model.give_the_day_of_coming_back");
  else if (is_day(from) && to < from) errors.to = tell("away_model.the_day_of_coming_back_is");
  const there = stay_clock(draft, errors);
  if (!is_day(from) || !is_day(to) || Object.keys(errors).length) return { errors, summary: "", posts: [] };
  const words = tell("away_model.away_from_to", { from: date_words(from), to: date_words(to) });
  return {
    errors,
    summary: `${words}${there.words}.`,
    posts: [{ path: "stays", about: "away", words, body: { from: moment(from, 0, 0, context.zone), to: moment(to, 23, 59, context.zone), ...there.body } }],
  };
}
