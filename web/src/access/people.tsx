// SPDX-License-Identifier: MIT
// "People of the agency": their ways in by label, ending one, inviting another.
import { useEffect, useState } from "preact/hooks";
import { end_account, people, type Phone, type Session } from "../api/access";
import { Screen } from "../parts/screen";
import { open_screen } from "../state/screen";
import { AccountRow } from "./account_row";
import { phone_words } from "./phone_words";
import { Refused } from "./refused";
import { useAsk } from "./use_ask";
import { tell } from "../words/catalogue/access";

interface Props {
  session: Session;
  zone: string;
  back: () => void;
}

export function People({ session, zone, back }: Props) {
  const { busy, said, ask } = useAsk();
  const [accounts, set_accounts] = useState<Phone[]>([]);
  const load = async (): Promise<void> => {
    const listed = await ask(people);
    if (listed) set_accounts(listed.got.accounts);
  };
  const end = async (account: string): Promise<void> => {
    if (await ask(() => end_account(account))) void load();
  };
  useEffect(() => void load(), []);
  const now = new Date();
  return (
    <Screen title={tell("people.people_of_the_agency")} back={back}>
      <Refused said={said} />
      <ul class="entries">
        {accounts.map((one) => {
          const own = one.account === session.account;
          return (
            <AccountRow
              key={one.account} label={own ? tell("people.you", { label: one.label }) : one.label} about={`${tell(`people.role_${one.role}`)}. ${phone_words(one, now, zone)}.`}
              busy={busy} end={own ? null : () => void end(one.account)} ended_words={tell("people.all_sessions_and_passkeys_of_it")}
            />
          );
        })}
      </ul>
      <button class="main" type="button" onClick={() => open_screen("invite")}>
        {tell("people.invite_someone_of_the_agency")}
      </button>
    </Screen>
  );
}
