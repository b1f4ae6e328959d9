// SPDX-License-Identifier: MIT
// People of the agency, as a section of the desks.
import "../first_view";
import { People } from "../access/people";
import { open_screen } from "../state/screen";
import type { SectionProps } from "./sections";

export function PeopleSection({ session }: SectionProps) {
  return <People session={session} zone={Intl.DateTimeFormat().resolvedOptions().timeZone} back={() => open_screen("households")} />;
}
