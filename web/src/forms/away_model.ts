// SPDX-License-Identifier: MIT
// A stay away from home, in whole days: the service answers with what to pack.
import type { Draft } from "../state/draft";
import { moment_of, rfc3339 } from "../time/zone";
import { date_words } from "../words/moments";
import type { Context, FieldOfPlace, Model } from "./context";

export const away_fields: FieldOfPlace = { "/from": "from", "/to": "to" };

const is_day = (text: string | undefined): text is string => /^\d{4}-\d\d-\d\d$/.test(text ?? "");

function moment(day: string, hour: number, minute: number, zone: string): string {
  const [year, month, date] = day.split("-").map(Number) as [number, number, number];
  return rfc3339(moment_of({ year, month, day: date, hour, minute }, zone), zone);
}

export function away_model(draft: Draft, context: Context): Model {
  const { from, to } = draft;
  const errors: Record<string, string> = {};
  if (!is_day(from)) errors.from = "Give the day of leaving.";
  if (!is_day(to)) errors.to = "Give the day of coming back.";
  else if (is_day(from) && to < from) errors.to = "The day of coming back is before the day of leaving.";
  if (!is_day(from) || !is_day(to) || errors.to) return { errors, summary: "", posts: [] };
  const words = `Away from ${date_words(from)} to ${date_words(to)}`;
  return {
    errors,
    summary: `${words}.`,
    posts: [{ path: "stays", about: "away", words, body: { from: moment(from, 0, 0, context.zone), to: moment(to, 23, 59, context.zone)} }],
  };
}
