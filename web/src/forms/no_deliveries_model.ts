// SPDX-License-Identifier: MIT
// No deliveries until a day: how surely each item reaches that far, told from the days that the service reckoned. How many to
// order it reckoned for the usual time between deliveries, so that no number is told here. Nothing of it is recorded.
import type { Forecast, ItemForecast } from "../api/types";
import { tell } from "../words/catalogue/plan";
import { date_words } from "../words/moments";
import { item_name } from "../words/names";

const day_ms = 86_400_000;

export function days_until(day: string, now: Date): number | null {
  const at = Date.parse(`${day}T12:00:00Z`);
  const days = Math.ceil((at - now.getTime()) / day_ms);
  return /^\d{4}-\d\d-\d\d$/.test(day) && days > 0 && days <= 366 ? days : null;
}

/// The days are quantiles: in 19 of 20 such times it lasts at least the 5 % one, in one of two the middle one.
export function reach_words(item: ItemForecast, days: number, until: string): string {
  const name = item_name(item.item);
  if (item.please_count) return tell("no_deliveries.count_first", { name });
  if (!item.days) return tell("no_deliveries.not_known", { name });
  const { p05, p50, p95 } = item.days;
  if (p05 >= days) return tell("no_deliveries.enough", { name, days: Math.floor(p05) });
  const reaches = p50 >= days ? "no_deliveries.doubtful" : "no_deliveries.short";
  return `${tell(reaches, { name, from: Math.floor(p05), to: Math.floor(p95) })} ${tell("no_deliveries.tell_your_agency", { date: date_words(until) })}`;
}

export function reach(forecast: Forecast, days: number, until: string): string[] {
  return forecast.stock.map((item) => reach_words(item, days, until));
}
