// SPDX-License-Identifier: MIT
// "Phones of this home": which there are, ending one, inviting another, invitations that are open.
import { useEffect, useState } from "preact/hooks";
import { end_phone, open_invitations, phones_of, take_invitation_back, type Invitation, type Phone } from "../api/access";
import { context_of } from "../forms/context_of";
import type { FormProps } from "../forms/use_form";
import { Screen } from "../parts/screen";
import type { Desk } from "../state/desk";
import { open_screen } from "../state/screen";
import { may } from "../state/session";
import { clock } from "../words/moments";
import { AccountRow } from "./account_row";
import { phone_words } from "./phone_words";
import { Refused } from "./refused";
import { useAsk, type Asking } from "./use_ask";
import { tell } from "../words/catalogue/access";

interface RowProps {
  desk: Desk;
  phone: Phone;
  asking: Asking;
  ended: () => void;
}

function PhoneRow({ desk, phone, asking, ended }: RowProps) {
  const end = async (): Promise<void> => {
    if (await asking.ask(() => end_phone(desk.name, phone.account))) ended();
  };
  const sign_out = (
    <button type="button" onClick={() => open_screen("sign_out")}>
      {tell("phones_screen.sign_this_phone_out")}
    </button>
  );
  return (
    <AccountRow
      label={phone.this_phone ? tell("phones_screen.this_phone", { label: phone.label }) : phone.label} about={`${phone_words(phone, desk.value.now, context_of(desk).zone)}.`}
      busy={asking.busy} end={may(desk.value.session, "end-phones") ? () => void end() : null} own={phone.this_phone ? sign_out : undefined}
      ended_words={tell("phones_screen.it_is_signed_out_at_once")}
    />
  );
}

function Open({ invitations, zone, asking, taken_back }: { invitations: Invitation[]; zone: string; asking: Asking; taken_back: () => void }) {
  const take_back = async (id: string): Promise<void> => {
    if (await asking.ask(() => take_invitation_back(id))) taken_back();
  };
  if (!invitations.length) return null;
  return (
    <>
      <h2>{tell("phones_screen.invited_not_here_yet")}</h2>
      <ul class="entries">
        {invitations.map((one) => (
          <li key={one.invitation}>
            <p>{tell("phones_screen.until", { value: one.label ?? tell("phones_screen.a_phone"), clock: clock(new Date(one.expires_at), zone) })}</p>
            <div class="answers">
              <button type="button" disabled={asking.busy} onClick={() => void take_back(one.invitation)}>
                {tell("phones_screen.take_it_back")}<span class="unseen">{`: ${one.label ?? tell("phones_screen.a_phone_2")}`}</span>
              </button>
            </div>
          </li>
        ))}
      </ul>
    </>
  );
}

export function PhonesScreen({ desk, done }: FormProps) {
  const asking = useAsk();
  const [phones, set_phones] = useState<Phone[] | null>(null);
  const [invitations, set_invitations] = useState<Invitation[]>([]);
  const { session } = desk.value;
  const load = async (): Promise<void> => {
    const listed = await asking.ask(() => phones_of(desk.name));
    if (listed) set_phones(listed.got.phones);
    const open = await open_invitations();
    if ("got" in open) set_invitations(open.got.invitations.filter((one) => !one.household || one.household === desk.name));
  };
  useEffect(() => void load(), []);
  return (
    <Screen title={tell("phones_screen.phones_of_this_home")} back={done}>
      <Refused said={asking.said} />
      {!phones && !asking.said && <p role="status">{tell("phones_screen.asking")}</p>}
      <ul class="entries">
        {phones?.map((phone) => <PhoneRow key={phone.account} desk={desk} phone={phone} asking={asking} ended={() => void load()} />)}
      </ul>
      <Open invitations={invitations} zone={context_of(desk).zone} asking={asking} taken_back={() => void load()} />
      <div class="ways">
        {may(session, "invite") && (
          <button class="main" type="button" onClick={() => open_screen("invite")}>
            {tell("phones_screen.invite_another_phone")}
          </button>
        )}
        {may(session, "make-sealed-code") && (
          <button type="button" onClick={() => open_screen("sealed_code")}>
            <span>{tell("phones_screen.a_sealed_recovery_code")}</span>
            <small>{tell("phones_screen.for_the_day_when_all_phones")}</small>
          </button>
        )}
      </div>
    </Screen>
  );
}
