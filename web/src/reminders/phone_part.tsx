// SPDX-License-Identifier: MIT
// Reminders to this phone: explained before its browser asks, tried out, and when it last confirmed one.
import { useState } from "preact/hooks";
import { send_a_trial, send_here, send_no_more, type Part, type Push } from "../api/reminders";
import { Refused } from "../access/refused";
import { useAsk } from "../access/use_ask";
import { Choices } from "../parts/fields";
import { moment_words } from "../words/moments";
import { tell } from "../words/catalogue/remind";
import { ability_here, subscribe_here, unsubscribe_here } from "./here";

interface Props {
  household: string;
  push: Push;
  now: Date;
  zone: string;
  changed: () => void;
}

const parts = [
  { value: "first", words: tell("remind.first"), hint: tell("remind.first_hint") },
  { value: "second", words: tell("remind.second_phone"), hint: tell("remind.second_phone_hint") },
];

const not_allowed = { title: tell("remind.not_allowed"), detail: tell("remind.not_allowed_detail") };

function Begin({ household, push, changed }: Props) {
  const { busy, said, say, ask } = useAsk();
  const [part, set_part] = useState<Part>("first");
  const begin = async (): Promise<void> => {
    const subscription = await subscribe_here(push.key ?? "");
    if (!subscription) return say(not_allowed);
    if (await ask(() => send_here(household, subscription, part))) changed();
  };
  return (
    <>
      <p>{tell("remind.permission")}</p>
      <Choices name="part" legend={tell("remind.this_phone_is")} value={part} choices={parts} onChange={(value) => set_part(value as Part)} />
      <Refused said={said} />
      <button class="main" type="button" disabled={busy} onClick={() => void begin()}>
        {tell("remind.send_here")}
      </button>
    </>
  );
}

function Sent({ household, push, now, zone, changed }: Props) {
  const { busy, said, ask } = useAsk();
  const [tried, set_tried] = useState(false);
  const { last_confirmed_at: last, part } = push.this_phone ?? {};
  const end = async (): Promise<void> => {
    await unsubscribe_here();
    if (await ask(() => send_no_more(household))) changed();
  };
  const trial = async (): Promise<void> => set_tried(Boolean(await ask(() => send_a_trial(household))));
  return (
    <>
      <p>{part === "second" ? tell("remind.sent_as_second") : tell("remind.sent_as_first")}</p>
      <p class="strong">{last ? tell("remind.confirmed", { moment: moment_words(new Date(last), now, zone) }) : tell("remind.none_confirmed")}</p>
      <Refused said={said} />
      <div role="status">{tried && <p>{tell("remind.trial_sent")}</p>}</div>
      <div class="answers">
        <button type="button" disabled={busy} onClick={() => void trial()}>
          {tell("remind.try_one")}
        </button>
        <button type="button" disabled={busy} onClick={() => void end()}>
          {tell("remind.no_more")}
        </button>
      </div>
    </>
  );
}

function Here(props: Props) {
  if (!props.push.offered) return <p>{tell("remind.not_offered")}</p>;
  if (props.push.this_phone) return <Sent {...props} />;
  const ability = ability_here();
  if (ability === "can") return <Begin {...props} />;
  if (ability === "install_first") return <p>{tell("remind.install_first")}</p>;
  return <p>{ability === "refused" ? tell("remind.refused_before") : tell("remind.cannot")}</p>;
}

export function PhonePart(props: Props) {
  const { push, now, zone } = props;
  const others = (push.phones ?? []).filter((one) => !one.this);
  return (
    <section class="card" aria-labelledby="push-name">
      <h2 id="push-name">{tell("remind.to_this_phone")}</h2>
      <Here {...props} />
      {others.length > 0 && (
        <ul>
          {others.map(({ label, part, last_confirmed_at: last }) => (
            <li key={label}>
              {`${label}: ${part === "second" ? tell("remind.second_phone") : tell("remind.first")}. ${last ? tell("remind.other_confirmed", { moment: moment_words(new Date(last), now, zone) }) : tell("remind.other_none")}`}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
