// SPDX-License-Identifier: MIT
// What the home told its agency and whether it was seen there; what the agency brings, each with the way to say what came.
import type { Delivery, Message } from "../api/agency";
import { context_of } from "../forms/context_of";
import { messages_to_show, open_deliveries, type Told } from "../state/correspondence";
import type { Desk } from "../state/desk";
import { kept_help } from "../state/help";
import { open_screen } from "../state/screen";
import { may_perhaps } from "../state/session";
import { delivery_words, message_words } from "../words/agency";
import { tell } from "../words/catalogue/agency";
import { date_words, moment_words } from "../words/moments";
import { CallNumber } from "./call_number";
import { JustRecorded, Waiting } from "./notes";

/// A message is read when somebody looks; a telephone rings.
function Call() {
  const help = kept_help();
  return (
    <>
      <p>{tell(help?.number ? "agency_card.cannot_wait" : "agency_card.no_number")}</p>
      {help?.number && <CallNumber number={help.number} label={help.label} words={tell("agency_card.call", { number: help.number })} />}
      <p>{tell("agency_card.no_call_for_help")}</p>
    </>
  );
}

function Told({ message, now, zone }: { message: Message; now: Date; zone: string }) {
  return (
    <>
      <p class="strong">{message_words(message, now, zone)}</p>
      {message.note && <p class="small">{tell("agency_card.note", { note: message.note })}</p>}
    </>
  );
}

function ToCome({ delivery, answers }: { delivery: Delivery; answers: boolean }) {
  return (
    <div class="note">
      <p class="strong">{delivery_words(delivery)}</p>
      {["left", "no_answer"].includes(delivery.state) && <p>{tell("agency_card.counts_once_it_came")}</p>}
      {answers && (
        <button type="button" onClick={() => open_screen("delivery", { round: delivery.round })}>
          {tell("agency_card.say_what_came", { day: date_words(delivery.date) })}
        </button>
      )}
    </div>
  );
}

function Closed({ told, now, zone }: { told: Told | null; now: Date; zone: string }) {
  const since = told?.document.closed_at;
  return since ? <p>{tell("agency_card.closed", { moment: moment_words(new Date(since), now, zone) })}</p> : null;
}

export function AgencyCard({ desk }: { desk: Desk }) {
  const { told, waiting, recorded, now, signal, from_phone, session } = desk.value;
  const { zone } = context_of(desk);
  const on_the_way = waiting.filter((one) => one.about === "agency");
  const messages = told ? messages_to_show(told, now) : [];
  const unseen = messages.filter((one) => !one.seen_at);
  const to_be_seen = unseen.length > 0 || on_the_way.some((one) => one.path === "messages");
  return (
    <section class="card" data-agency aria-labelledby="agency-name">
      <h2 id="agency-name">{tell("agency_card.title")}</h2>
      {on_the_way.map((one) => <Waiting key={one.key} intention={one} />)}
      {unseen.map((one) => <Told key={one.entry} message={one} now={now} zone={zone} />)}
      {to_be_seen && <Call />}
      {messages.filter((one) => one.seen_at).map((one) => <Told key={one.entry} message={one} now={now} zone={zone} />)}
      <Closed told={told} now={now} zone={zone} />
      {open_deliveries(told).map((one) => <ToCome key={one.round} delivery={one} answers={may_perhaps(session, "record-stock")} />)}
      {recorded.filter((one) => one.about === "agency").map((one) => <JustRecorded key={one.entry.id} desk={desk} one={one} />)}
      {told && (!signal || from_phone) && <p class="small">{tell("agency_card.as_it_stood", { moment: moment_words(new Date(told.read_ms), now, zone) })}</p>}
    </section>
  );
}
