// SPDX-License-Identifier: MIT
// Signing in with a passkey: at the door, and once more before something that wants it fresh.
import { sign_in, sign_in_options, type Session } from "../api/access";
import { tell } from "../words/catalogue/access";
import { has_passkeys, use_passkey } from "./passkey";
import { Refused } from "./refused";
import { useAsk } from "./use_ask";

export type SignedIn = (session: Session) => void;

const unknown_passkey = { title: tell("sign_in_page.this_passkey_is_not_known_here"), detail: tell("sign_in_page.use_another_one_or_a_recovery") };
const no_passkey = { title: tell("sign_in_page.no_passkey_was_used"), detail: tell("sign_in_page.it_was_left_or_this_device") };

export function ByPasskey({ signed_in }: { signed_in: SignedIn }) {
  const { busy, said, say, ask } = useAsk();
  const use = async (): Promise<void> => {
    const options = await ask(sign_in_options);
    if (!options) return;
    const credential = await use_passkey(options.got.options);
    if (!credential) return say(no_passkey);
    const answer = await ask(() => sign_in(options.got.challenge_id, credential), unknown_passkey);
    if (answer) signed_in(answer.got);
  };
  return (
    <section class="card" aria-labelledby="by-passkey">
      <h2 id="by-passkey">{tell("sign_in_page.people_of_the_agency")}</h2>
      <Refused said={said} />
      {has_passkeys() ? (
        <button class="wide" type="button" disabled={busy} onClick={() => void use()}>
          {tell("sign_in_page.sign_in_with_a_passkey")}
        </button>
      ) : (
        <p>{tell("sign_in_page.this_browser_has_no_passkeys_here")}</p>
      )}
    </section>
  );
}
