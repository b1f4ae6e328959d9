// SPDX-License-Identifier: MIT
// Making a passkey: the step that follows a staff member's invitation, and a further one later.
import { keep_passkey, type Session } from "../api/access";
import { has_passkeys, make_passkey } from "./passkey";
import { Refused } from "./refused";
import { useAsk } from "./use_ask";
import { tell } from "../words/catalogue/access";

interface Props {
  code: string | null;
  options: PublicKeyCredentialCreationOptionsJSON;
  made: (session: Session) => void;
}

const left = { title: tell("passkey_step.no_passkey_was_made"), detail: tell("passkey_step.it_was_left_or_this_device") };

export function PasskeyStep({ code, options, made }: Props) {
  const { busy, said, say, ask } = useAsk();
  const make = async (): Promise<void> => {
    say(null);
    const credential = await make_passkey(options);
    if (!credential) return say(left);
    const kept = await ask(() => keep_passkey(code, credential));
    if (kept) made(kept.got);
  };
  return (
    <>
      <p class="told">{tell("passkey_step.a_passkey_stands_in_this_device")}</p>
      <Refused said={said} />
      {has_passkeys() ? (
        <button class="main" type="button" disabled={busy} onClick={() => void make()}>
          {tell("passkey_step.make_a_passkey")}
        </button>
      ) : (
        <p class="strong">{tell("passkey_step.this_browser_makes_no_passkeys_here")}</p>
      )}
    </>
  );
}
