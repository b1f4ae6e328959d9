// SPDX-License-Identifier: MIT
// "Invite another phone": which, in which hours; then its link and its square code, shown once.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { invite, take_invitation_back, type Invited, type Role } from "../api/access";
import { Choices, Input } from "../parts/fields";
import { clock } from "../words/moments";
import { invite_model, type Typed } from "./invite_model";
import { QrCode } from "./qr";
import { Refused } from "./refused";
import { useAsk } from "./use_ask";
import { tell } from "../words/catalogue/access";

interface Props {
  roles: readonly { value: Role; words: string; hint?: string }[];
  household?: string;
  zone: string;
  done: () => void;
}

const nothing_typed: Typed = { role: "household", label: "", from: "08:00", to: "16:00", until: "" };

function Link({ link }: { link: string }) {
  const [copied, set_copied] = useState(false);
  const copy = (): void => void navigator.clipboard.writeText(link).then(() => set_copied(true));
  const share = (): void => void navigator.share({ url: link }).catch(() => undefined);
  return (
    <>
      <p class="told link">{link}</p>
      <p class="answers told">
        {"share" in navigator && (
          <button type="button" onClick={share}>
            {tell("invite_screen.send_the_link")}
          </button>
        )}
        {Boolean(navigator.clipboard) && (
          <button type="button" onClick={copy}>
            {copied ? tell("invite_screen.copied") : tell("invite_screen.copy_the_link")}
          </button>
        )}
      </p>
    </>
  );
}

function Shown({ made, zone, done }: { made: Invited; zone: string; done: () => void }) {
  const { busy, said, ask } = useAsk();
  const take_back = async (): Promise<void> => {
    if (await ask(() => take_invitation_back(made.invitation))) done();
  };
  return (
    <>
      <p class="strong">{tell("invite_screen.for_it_works_once_until", { value: made.label ?? tell("invite_screen.one_phone"), clock: clock(new Date(made.expires_at), zone) })}</p>
      <p class="told">{tell("invite_screen.hold_this_in_front_of_the")}</p>
      <QrCode rows={made.qr} words={tell("invite_screen.square_code_of_the_invitation_the")} />
      <Link link={made.link} />
      <Refused said={said} />
      <button class="main" type="button" onClick={done}>
        {tell("invite_screen.done")}
      </button>
      <p>
        <button class="plain" type="button" disabled={busy} onClick={() => void take_back()}>
          {tell("invite_screen.take_the_invitation_back")}
        </button>
      </p>
    </>
  );
}

export function InviteForm({ roles, household, zone, done }: Props): ComponentChildren {
  const { busy, said, ask } = useAsk();
  const [typed, set_typed] = useState<Typed>({ ...nothing_typed, role: roles[0]?.value ?? "household" });
  const [tried, set_tried] = useState(false);
  const [made, set_made] = useState<Invited | null>(null);
  const { errors, body } = invite_model(typed, household, zone, new Date());
  const field = (name: keyof Typed) => ({
    name, value: typed[name], error: tried ? errors[name] : undefined, onChange: (value: string): void => set_typed({ ...typed, [name]: value }),
  });
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    set_tried(true);
    if (Object.keys(errors).length) return;
    const answer = await ask(() => invite(body));
    if (answer) set_made({ ...answer.got, label: body.label });
  };
  if (made) return <Shown made={made} zone={zone} done={done} />;
  return (
    <form onSubmit={(event) => void send(event)} noValidate>
      <Choices {...field("role")} legend={tell("invite_screen.who_for")} choices={roles} />
      <Input {...field("label")} legend={tell("invite_screen.what_to_call_it_such_as")} max_length={40} />
      {typed.role === "guest" && (
        <>
          <div class="pair">
            <Input {...field("from")} legend={tell("invite_screen.each_day_from")} type="time" />
            <Input {...field("to")} legend={tell("invite_screen.to")} type="time" />
          </div>
          <p class="told">{tell("invite_screen.by_the_clock_at_the_home")}</p>
          <Input {...field("until")} legend={tell("invite_screen.last_day")} type="date" />
        </>
      )}
      <Refused said={said} />
      <button class="main" type="submit" disabled={busy}>
        {tell("invite_screen.make_the_invitation")}
      </button>
    </form>
  );
}
