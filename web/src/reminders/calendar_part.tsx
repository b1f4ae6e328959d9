// SPDX-License-Identifier: MIT
// The calendar of the household: a secret address for the calendar that people look at anyway, shown once.
import { useState } from "preact/hooks";
import { end_calendar, make_calendar, type Address, type Reminders } from "../api/reminders";
import { Refused } from "../access/refused";
import { useAsk } from "../access/use_ask";
import { moment_words } from "../words/moments";
import { tell } from "../words/catalogue/remind";

function Made({ address, webcal }: Address) {
  const [copied, set_copied] = useState(false);
  const copy = (): void => void navigator.clipboard.writeText(address).then(() => set_copied(true));
  return (
    <>
      <p>{tell("remind.shown_once")}</p>
      <p class="told link">{address}</p>
      <div class="answers told">
        <a class="button" href={webcal}>
          {tell("remind.open_in_calendar")}
        </a>
        {Boolean(navigator.clipboard) && (
          <button type="button" onClick={copy}>
            {copied ? tell("remind.copied") : tell("remind.copy")}
          </button>
        )}
      </div>
    </>
  );
}

interface Props {
  household: string;
  calendar: Reminders["calendar"];
  now: Date;
  zone: string;
  changed: () => void;
}

export function CalendarPart({ household, calendar, now, zone, changed }: Props) {
  const { busy, said, ask } = useAsk();
  const [made, set_made] = useState<Address | null>(null);
  const make = async (): Promise<void> => {
    const answer = await ask(() => make_calendar(household));
    if (!answer) return;
    set_made(answer.got);
    changed();
  };
  const end = async (): Promise<void> => {
    if (!(await ask(() => end_calendar(household)))) return;
    set_made(null);
    changed();
  };
  const say = (at: string): string => moment_words(new Date(at), now, zone);
  return (
    <section class="card" aria-labelledby="calendar-name">
      <h2 id="calendar-name">{tell("remind.calendar")}</h2>
      <p>{tell("remind.calendar_looks_seldom")}</p>
      <p>{tell("remind.address_is_secret")}</p>
      {calendar && <p class="small">{calendar.last_read_at ? tell("remind.read_last", { since: say(calendar.since), read: say(calendar.last_read_at) }) : tell("remind.not_read_yet", { since: say(calendar.since) })}</p>}
      <Refused said={said} />
      {made && <Made {...made} />}
      <div class="answers">
        <button type="button" disabled={busy} onClick={() => void make()}>
          {calendar ? tell("remind.renew") : tell("remind.make")}
        </button>
        {calendar && (
          <button type="button" disabled={busy} onClick={() => void end()}>
            {tell("remind.end_calendar")}
          </button>
        )}
      </div>
    </section>
  );
}
