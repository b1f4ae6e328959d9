// SPDX-License-Identifier: MIT
// The page at /in: by an invitation, by a recovery code, by a passkey.
import "../first_view";
import { useState } from "preact/hooks";
import { sign_in_by_code, type Session } from "../api/access";
import { Input } from "../parts/fields";
import { ByPasskey, type SignedIn } from "./by_passkey";
import { drop_invitation_code, invitation_code, is_of_a_household, take_invitation_code } from "./codes";
import { Bound, Invited } from "./invited";
import { PrintedCodes } from "./printed_codes";
import { Refused } from "./refused";
import { useAsk } from "./use_ask";
import { tell } from "../words/catalogue/access";

export function way_in(session: Session, screen = ""): string {
  return session.household ? `/h/${encodeURIComponent(session.household)}${screen}` : "/";
}

function ByInvitation({ open }: { open: (code: string) => void }) {
  const [text, set_text] = useState("");
  const [error, set_error] = useState("");
  const use = (event: Event): void => {
    event.preventDefault();
    const code = invitation_code(text);
    if (code) open(code);
    else set_error(tell("sign_in_page.this_is_no_invitation_copy_all"));
  };
  return (
    <section class="card" aria-labelledby="by-invitation">
      <h2 id="by-invitation">{tell("sign_in_page.an_invitation")}</h2>
      <p>{tell("sign_in_page.it_comes_from_a_phone_of")}</p>
      <form onSubmit={use}>
        <Input name="invitation" legend={tell("sign_in_page.or_paste_its_link")} value={text} error={error} onChange={set_text} />
        <button class="wide" type="submit">
          {tell("sign_in_page.use_the_invitation")}
        </button>
      </form>
    </section>
  );
}

const unknown_code = { title: tell("sign_in_page.this_code_does_not_work"), detail: tell("sign_in_page.look_at_each_letter_again_each") };

function ByRecoveryCode({ signed_in }: { signed_in: SignedIn }) {
  const { busy, said, say, ask } = useAsk();
  const [code, set_code] = useState("");
  const [sure, set_sure] = useState(false);
  const send = async (): Promise<void> => {
    set_sure(false);
    const answer = await ask(() => sign_in_by_code(code.trim()), unknown_code);
    if (answer) signed_in(answer.got);
  };
  const use = (event: Event): void => {
    event.preventDefault();
    if (!code.trim()) return say({ title: tell("sign_in_page.type_the_code_first"), detail: "" });
    if (is_of_a_household(code)) set_sure(true);
    else void send();
  };
  return (
    <section class="card" aria-labelledby="by-code">
      <h2 id="by-code">{tell("sign_in_page.a_recovery_code")}</h2>
      <p>{tell("sign_in_page.the_one_in_the_home_s")}</p>
      <form onSubmit={use}>
        <Input name="code" legend={tell("sign_in_page.the_code")} value={code} max_length={80} onChange={set_code} />
        <Refused said={said} />
        {sure ? (
          <div class="ask" role="alert">
            <p class="strong">{tell("sign_in_page.all_other_phones_of_this_home")}</p>
            <div class="answers">
              <button type="button" onClick={() => void send()}>
                {tell("sign_in_page.yes_use_the_code")}
              </button>
              <button type="button" onClick={() => set_sure(false)}>
                {tell("sign_in_page.no")}
              </button>
            </div>
          </div>
        ) : (
          <button class="wide" type="submit" disabled={busy}>
            {tell("sign_in_page.use_the_code")}
          </button>
        )}
      </form>
    </section>
  );
}

export function SignInPage() {
  const [code, set_code] = useState(take_invitation_code);
  const [session, set_session] = useState<Session | null>(null);
  const open = (to: string): void => window.location.replace(to);
  if (session?.recovery_codes?.length) return <PrintedCodes codes={session.recovery_codes} done={() => open(way_in(session))} />;
  if (session && code) return <Bound session={session} go_on={() => open(way_in(session))} />;
  if (code) {
    const leave = (): void => {
      drop_invitation_code();
      set_code(null);
    };
    return <Invited code={code} signed_in={set_session} leave={leave} />;
  }
  const by_code: SignedIn = (got) => open(way_in(got, "#sealed_code"));
  return (
    <main>
      <h1>{tell("sign_in_page.sign_in")}</h1>
      <ByInvitation open={set_code} />
      <ByRecoveryCode signed_in={by_code} />
      <ByPasskey signed_in={(got) => open(way_in(got))} />
    </main>
  );
}
