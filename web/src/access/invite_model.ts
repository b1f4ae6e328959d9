// SPDX-License-Identifier: MIT
// From what was typed into "Invite another phone" to an invitation, or what is to be mended.
import type { Invite, Role } from "../api/access";
import { moment_of, read_wall, rfc3339 } from "../time/zone";
import { tell } from "../words/catalogue/access";

export interface Typed {
  role: Role;
  label: string;
  from: string;
  to: string;
  until: string;
}

export interface InviteModel {
  errors: Partial<Record<keyof Typed, string>>;
  body: Invite;
}

/// A guest's last day is whole: it ends when the home's clocks show the next day's beginning.
function end_of_day(date: string, zone: string): Date | null {
  const wall = read_wall(`${date}T00:00`);
  if (!wall) return null;
  const next = new Date(Date.UTC(wall.year, wall.month - 1, wall.day + 1));
  return moment_of({ year: next.getUTCFullYear(), month: next.getUTCMonth() + 1, day: next.getUTCDate(), hour: 0, minute: 0 }, zone);
}

export function invite_model({ role, label, from, to, until }: Typed, household: string | undefined, zone: string, now: Date): InviteModel {
  const errors: InviteModel["errors"] = {};
  const body: Invite = { role, label: label.trim(), ...(household && { household }) };
  if (!body.label) errors.label = tell("invite_model.say_which_phone_it_is_without");
  if (role === "guest") {
    const end = end_of_day(until, zone);
    if (!from) errors.from = tell("invite_model.say_from_when_in_the_day");
    if (!to || to === from) errors.to = tell("invite_model.say_until_when_in_the_day");
    if (!end || end.getTime() <= now.getTime()) errors.until = tell("invite_model.choose_the_last_day_from_today");
    else body.until = rfc3339(end, zone);
    body.hours = { from, to };
  }
  return { errors, body };
}
