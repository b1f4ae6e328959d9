// SPDX-License-Identifier: MIT
// The first page of people of an agency: the frame of their desks, and in it the section they came for. A phone of a
// household is taken to that household, whoever is not signed in to the sign-in page.
import "../first_view";
import { useEffect, useState } from "preact/hooks";
import { ask_session, type Role, type Session } from "../api/access";
import { InviteForm } from "../access/invite_screen";
import { FurtherPasskey } from "../access/further_passkey";
import { Later } from "../parts/later";
import { Screen } from "../parts/screen";
import { Frame } from "../staff/frame";
import { OwnPage } from "../staff/own";
import { usePlace, type Place } from "../staff/place";
import { section_named } from "../staff/sections";
import { wear } from "../staff/sheet";
import { open_screen } from "../state/screen";
import style from "../staff/staff.css";

const staff_roles: readonly { value: Role; words: string }[] = [
  { value: "planner", words: "A planner" },
  { value: "technician", words: "A technician" },
  { value: "administrator", words: "An administrator" },
];

function Invite() {
  const to_people = (): void => open_screen("people");
  return (
    <Screen title="Invite someone of the agency" back={to_people}>
      <InviteForm roles={staff_roles} zone={Intl.DateTimeFormat().resolvedOptions().timeZone} done={to_people} />
    </Screen>
  );
}

function Open({ session, place }: { session: Session; place: Place }) {
  const section = section_named(place.section, session);
  const own: Record<string, () => preact.JSX.Element> = {
    invite: () => <Invite />, passkey: () => <FurtherPasskey back={() => open_screen("own")} />, own: () => <OwnPage session={session} />,
  };
  const Own = own[place.section];
  if (Own) {
    return (
      <Frame session={session} here={place.section === "invite" ? "people" : "own"}>
        <Own key={place.section} />
      </Frame>
    );
  }
  const page = section?.name === place.section ? place.page : "";
  return (
    <Frame session={session} here={section?.name ?? ""}>
      {section ? (
        <Later part={section.part} key={section.name}>
          {(Section) => <Section session={session} page={page} given={place.given} />}
        </Later>
      ) : (
        <main>
          <h1>Nothing is kept here for this role.</h1>
        </main>
      )}
    </Frame>
  );
}

export function Start() {
  const [session, set_session] = useState<Session | null>(null);
  const place = usePlace();
  useEffect(() => {
    wear(style);
    void ask_session().then((answer) => {
      if ("problem" in answer && answer.problem.status === 401) window.location.replace("/in");
      if (!("got" in answer)) return;
      if (answer.got.household) window.location.replace(`/h/${encodeURIComponent(answer.got.household)}`);
      else set_session(answer.got);
    });
  }, []);
  if (session) return <Open session={session} place={place} />;
  return (
    <main>
      <p role="status" class="small">
        One moment…
      </p>
    </main>
  );
}
