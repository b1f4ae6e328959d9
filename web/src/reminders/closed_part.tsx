// SPDX-License-Identifier: MIT
// In place of the rest where the agency has closed the home: nothing is reminded, whom to call, and what can still be ended.
import { end_calendar, send_no_more, type Reminders } from "../api/reminders";
import { Refused } from "../access/refused";
import { useAsk } from "../access/use_ask";
import type { Answer } from "../api/client";
import { CallNumber } from "../parts/call_number";
import { kept_help } from "../state/help";
import { moment_words } from "../words/moments";
import { tell } from "../words/catalogue/remind";
import { unsubscribe_here } from "./here";

interface Props {
  household: string;
  told: Reminders;
  now: Date;
  zone: string;
  changed: () => void;
}

export function ClosedPart({ household, told, now, zone, changed }: Props) {
  const { busy, said, ask } = useAsk();
  const help = kept_help();
  const end = (request: () => Promise<Answer<null>>) => async (): Promise<void> => {
    if (await ask(request)) changed();
  };
  const no_more = async (): Promise<Answer<null>> => {
    await unsubscribe_here();
    return send_no_more(household);
  };
  return (
    <section class="card" aria-labelledby="closed-name">
      <h2 id="closed-name">{tell("remind.closed", { moment: moment_words(new Date(told.closed_at ?? now), now, zone) })}</h2>
      <p class="strong">{tell("remind.closed_nothing")}</p>
      <p>{tell(help?.number ? "remind.closed_call" : "remind.closed_call_no_number")}</p>
      {help?.number && <CallNumber number={help.number} label={help.label} words={tell("remind.call", { number: help.number })} />}
      <p>{tell("remind.closed_open_again")}</p>
      <Refused said={said} />
      <div class="answers">
        {told.push.this_phone && (
          <button type="button" disabled={busy} onClick={() => void end(no_more)()}>
            {tell("remind.no_more")}
          </button>
        )}
        {told.calendar && (
          <button type="button" disabled={busy} onClick={() => void end(() => end_calendar(household))()}>
            {tell("remind.end_calendar")}
          </button>
        )}
      </div>
    </section>
  );
}
