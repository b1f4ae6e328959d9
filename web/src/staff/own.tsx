// SPDX-License-Identifier: MIT
// One's own way in: a further passkey, signing out.
import { sign_out, type Role, type Session } from "../api/access";
import { Choices } from "../parts/fields";
import { open_screen } from "../state/screen";
import { may } from "../state/session";
import { Page } from "./frame";
import { tell } from "../words/catalogue/staff";
import { language, languages, set_language } from "../words/language";

const role_words: Record<Role, string> = {
  household: tell("staff.the_home"), guest: tell("staff.a_guest"), planner: tell("staff.planner"), technician: tell("staff.technician"), administrator: tell("staff.administrator"),
  operator: tell("staff.operator"),
};

const own_words = (session: Session): string => `${session.label}, ${role_words[session.role]}`;

function Ways({ session }: { session: Session }) {
  const leave = (): void => void sign_out().then((answer) => "got" in answer && window.location.replace("/in"));
  return (
    <>
      {may(session, "manage-accounts") && (
        <button type="button" onClick={() => open_screen("people")}>
          {tell("staff.people_of_the_agency")}
        </button>
      )}
      <button type="button" onClick={() => open_screen("passkey")}>
        {tell("staff.a_further_passkey")}
      </button>
      <button type="button" onClick={leave}>
        {tell("staff.sign_out")}
      </button>
    </>
  );
}

export function OwnWayIn({ session }: { session: Session }) {
  return (
    <section class="ways">
      <h2>{own_words(session)}</h2>
      <Ways session={session} />
    </section>
  );
}

export function OwnPage({ session }: { session: Session }) {
  return (
    <Page title={own_words(session)}>
      <div class="ways">
        <Ways session={session} />
      </div>
      <Choices
        name="language" legend={tell("staff.language")} value={language()} onChange={set_language}
        choices={languages.map(({ value, words }) => ({ value, words, hint: value === "es" ? tell("staff.not_checked") : undefined }))}
      />
    </Page>
  );
}
