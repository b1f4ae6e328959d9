// SPDX-License-Identifier: MIT
// An invitation was opened: a label for this phone, and it is bound; staff make a passkey instead.
import { useState } from "preact/hooks";
import { accept_invitation, type Session } from "../api/access";
import { Input } from "../parts/fields";
import { drop_invitation_code } from "./codes";
import { PasskeyStep } from "./passkey_step";
import { Refused } from "./refused";
import { useAsk } from "./use_ask";
import { tell } from "../words/catalogue/access";

interface Props {
  code: string;
  signed_in: (session: Session) => void;
  leave: () => void;
}

export function Invited({ code, signed_in, leave }: Props) {
  const { busy, said, ask } = useAsk();
  const [label, set_label] = useState("");
  const [options, set_options] = useState<PublicKeyCredentialCreationOptionsJSON | null>(null);
  const accept = async (event: Event): Promise<void> => {
    event.preventDefault();
    const answer = await ask(() => accept_invitation(code, label.trim()));
    if (!answer) return;
    if ("passkey_options" in answer.got) return set_options(answer.got.passkey_options);
    drop_invitation_code();
    signed_in(answer.got);
  };
  const made = (session: Session): void => {
    drop_invitation_code();
    signed_in(session);
  };
  return (
    <main>
      <h1>{options ? tell("invited.make_your_passkey") : tell("invited.you_are_invited")}</h1>
      {options ? (
        <PasskeyStep code={code} options={options} made={made} />
      ) : (
        <form onSubmit={(event) => void accept(event)}>
          <p class="told">{tell("invited.this_invitation_works_once_it_signs")}</p>
          <Input name="label" legend={tell("invited.a_label_for_this_phone_such")} value={label} max_length={40} onChange={set_label} />
          <p class="told">{tell("invited.no_person_s_name_the_label")}</p>
          <Refused said={said} />
          <button class="main" type="submit" disabled={busy}>
            {tell("invited.sign_in_this_phone")}
          </button>
        </form>
      )}
      <button class="plain line" type="button" onClick={leave}>
        {tell("invited.sign_in_another_way")}
      </button>
    </main>
  );
}

/// Said once, before anything can be lost.
export function Bound({ session, go_on }: { session: Session; go_on: () => void }) {
  return (
    <main>
      <h1>{tell("invited.this_phone_is_signed_in")}</h1>
      <p class="told">{tell("invited.in_the_records_it_is_called", { label: session.label })}</p>
      <ul class="cautions">
        <li>{tell("invited.clearing_the_browser_s_data_signs")}</li>
        {session.role === "household" && <li>{tell("invited.if_it_is_lost_end_it")}</li>}
        {session.hours && <li>{tell("invited.it_reads_and_records_between_and", { from: session.hours.from, to: session.hours.to })}</li>}
      </ul>
      <button class="main" type="button" onClick={go_on}>
        {tell("invited.open_the_page_of_the_home")}
      </button>
    </main>
  );
}
