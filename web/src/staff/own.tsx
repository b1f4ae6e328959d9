// SPDX-License-Identifier: MIT
// One's own way in: a further passkey, signing out.
import { sign_out, type Role, type Session } from "../api/access";
import { open_screen } from "../state/screen";
import { may } from "../state/session";
import { Page } from "./frame";

const role_words: Record<Role, string> = {
  household: "the home", guest: "a guest", planner: "planner", technician: "technician", administrator: "administrator", operator: "operator",
};

const own_words = (session: Session): string => `${session.label}, ${role_words[session.role]}`;

function Ways({ session }: { session: Session }) {
  const leave = (): void => void sign_out().then((answer) => "got" in answer && window.location.replace("/in"));
  return (
    <>
      {may(session, "manage-accounts") && (
        <button type="button" onClick={() => open_screen("people")}>
          People of the agency
        </button>
      )}
      <button type="button" onClick={() => open_screen("passkey")}>
        A further passkey
      </button>
      <button type="button" onClick={leave}>
        Sign out
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
    </Page>
  );
}
