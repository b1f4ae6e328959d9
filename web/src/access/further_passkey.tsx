// SPDX-License-Identifier: MIT
// "A further passkey": for a second device, so that losing one locks nobody out. Whoever signed in a while ago is asked
// for the passkey once more: a desk may have been left open.
import { useEffect, useState } from "preact/hooks";
import { further_passkey_options } from "../api/access";
import { Screen } from "../parts/screen";
import { refusal_words, type Said } from "../words/refusals";
import { ByPasskey } from "./by_passkey";
import { PasskeyStep } from "./passkey_step";
import { Refused } from "./refused";
import { tell } from "../words/catalogue/access";

export function FurtherPasskey({ back }: { back: () => void }) {
  const [said, say] = useState<Said | null>(null);
  const [again, set_again] = useState(false);
  const [options, set_options] = useState<PublicKeyCredentialCreationOptionsJSON | null>(null);
  const [made, set_made] = useState(false);
  const begin = async (): Promise<void> => {
    const answer = await further_passkey_options();
    set_again("problem" in answer && answer.problem.sign_in_again === true);
    if ("got" in answer) set_options(answer.got.passkey_options);
    else say(refusal_words(answer));
  };
  useEffect(() => void begin(), []);
  return (
    <Screen title={tell("further_passkey.a_further_passkey")} back={back}>
      {again ? (
        <>
          <p class="told">{tell("further_passkey.once_more")}</p>
          <ByPasskey
            signed_in={() => {
              say(null);
              void begin();
            }}
          />
        </>
      ) : (
        <Refused said={said} />
      )}
      {made && <p role="status">{tell("further_passkey.it_is_kept_you_can_sign")}</p>}
      {!again && !made && options && <PasskeyStep code={null} options={options} made={() => set_made(true)} />}
    </Screen>
  );
}
