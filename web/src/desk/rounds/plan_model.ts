// SPDX-License-Identifier: MIT
// How the plan is laid out: rounds by week, streets, where a stop could go instead.
import type { CalendarRound, Plan, PlanFigures, PlanRound, Round } from "../round_types";
import { week_of } from "../common/dates";
import { count_of } from "../common/words";
import type { House } from "./street";

export interface Week {
  monday: string;
  rounds: PlanRound[];
}

export function weeks_of(rounds: readonly PlanRound[]): Week[] {
  const weeks = new Map<string, PlanRound[]>();
  for (const round of [...rounds].sort((a, b) => a.date.localeCompare(b.date) || a.round.localeCompare(b.round))) {
    const monday = week_of(round.date);
    weeks.set(monday, [...(weeks.get(monday) ?? []), round]);
  }
  return [...weeks].map(([monday, of_week]) => ({ monday, rounds: of_week }));
}

const plots = (n: number): House[] => Array.from({ length: Math.max(0, n) }, () => "plot");

export function street_of(round: PlanRound): House[] {
  return [...round.stops.map((one): House => (one.confirmed ? "confirmed" : "planned")), ...plots(round.stops_at_most - round.stops.length)];
}

export function street_of_round(round: Round): House[] {
  return round.stops.map(({ lines }): House => {
    if (lines.length && lines.every((one) => one.state === "received")) return "received";
    return lines.some((one) => one.state === "no_answer" || one.state === "not_received") ? "without" : "confirmed";
  });
}

export const is_open = (round: PlanRound): boolean => round.changed && (round.state === "open" || round.state === "planned");

/// Rounds to which a stop can be moved, its own area's first, then by date. The calendar knows those without stops too.
export function rounds_for(calendar: readonly CalendarRound[], area: string, from: string): CalendarRound[] {
  const open = calendar.filter((one) => one.round !== from && (one.state === "open" || one.state === "planned"));
  return open.sort((a, b) => Number(b.area === area) - Number(a.area === area) || a.date.localeCompare(b.date));
}

/// What may be said of how few the visits are, and nothing more.
export function merit_words({ visits, visits_bound, least_visits_proven, gap }: PlanFigures): string {
  const said = count_of(visits, "visit");
  if (least_visits_proven) return `${said}: no plan makes do with fewer and leaves nobody more.`;
  if (visits_bound === null || gap === null) return `${said}. How few would do is not known.`;
  if (gap <= 0) return `${said}: as few as any plan can have.`;
  return `${said}, at most ${(Math.ceil(gap * 1000) / 10).toFixed(1)} % above the fewest that any plan can have.`;
}

/// An expected number of shortfalls, never rounded towards nothing.
export function shortfall_words(risk: number): string {
  if (risk < 1e-4) return "fewer than 1 in 10\u00a0000";
  return risk >= 10 ? String(Math.ceil(risk)) : String(Math.ceil(risk * 100 - 1e-9) / 100);
}

export const stops_of = (plan: Plan): Map<string, PlanRound[]> => {
  const found = new Map<string, PlanRound[]>();
  for (const round of plan.rounds) for (const { stop } of round.stops) found.set(stop, [...(found.get(stop) ?? []), round]);
  return found;
};
