// SPDX-License-Identifier: MIT
// What the people of an agency find here: each section, who sees it, and the file it comes in. The service refuses what
// is not allowed; the pages only leave it out.
import type { ComponentType } from "preact";
import type { Role, Session } from "../api/access";
import { Part } from "../state/part";
import { may } from "../state/session";
import { bring_words } from "../words/catalogue/bring_bench";
import { tell } from "../words/catalogue/staff";

export interface SectionProps {
  session: Session;
  /// What stands after the slash: "finding" of "#bench/finding?id=7"; empty: the section's first page.
  page: string;
  given: Record<string, string>;
}

export interface Section {
  name: string;
  words: string;
  seen_by: (session: Session) => boolean;
  part: Part<ComponentType<SectionProps>>;
}

const by_role = (...roles: Role[]) => (session: Session): boolean => roles.includes(session.role);

export const sections: readonly Section[] = [
  {
    name: "desk", words: tell("staff.planners_desk"), seen_by: (session) => may(session, "plan-rounds"),
    part: new Part(() => import("../desk/desk").then(({ Desk }) => Desk)),
  },
  {
    name: "bench", words: tell("staff.technicians_bench"), seen_by: by_role("technician", "administrator"),
    part: new Part(() => bring_words().then(() => import("../bench/bench")).then(({ Bench }) => Bench)),
  },
  {
    name: "households", words: tell("staff.households"), seen_by: (session) => may(session, "list-households"),
    part: new Part(() => import("./households").then(({ Households }) => Households)),
  },
  {
    name: "people", words: tell("staff.people"), seen_by: (session) => may(session, "manage-accounts"),
    part: new Part(() => import("./people_section").then(({ PeopleSection }) => PeopleSection)),
  },
  {
    name: "help", words: tell("staff.something_is_wrong_now"), seen_by: (session) => may(session, "enter-help"),
    part: new Part(() => import("./help_section").then(({ HelpSection }) => HelpSection)),
  },
];

/// The section that a role came for opens first.
const first_for: Partial<Record<Role, string>> = { planner: "desk", technician: "bench" };

export function sections_of(session: Session): readonly Section[] {
  return sections.filter((one) => one.seen_by(session));
}

export function section_named(name: string, session: Session): Section | undefined {
  const open = sections_of(session);
  const named = (wanted: string | undefined): Section | undefined => open.find((one) => one.name === wanted);
  return named(name) ?? named(first_for[session.role]) ?? named("households") ?? open[0];
}
