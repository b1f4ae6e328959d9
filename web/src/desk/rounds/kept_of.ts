// SPDX-License-Identifier: MIT
import type { Calendar } from "../round_types";

/// What a planner sets of the calendar, without what the service works out: sent whole each time.
export function kept_of({ horizon_days, cover_days, zone, rules, items }: Calendar): Pick<Calendar, "horizon_days" | "cover_days" | "zone" | "rules" | "items"> {
  return { horizon_days, rules, items, ...(cover_days && { cover_days }), ...(zone && { zone }) };
}
