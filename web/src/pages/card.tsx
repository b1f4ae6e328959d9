// SPDX-License-Identifier: MIT
// The card for the fridge: one printed page with the next dates, until when they hold, what to do when something is
// wrong, lines to write changes on, and the page's address as a square code (an address and nothing else: whoever scans
// it still has to be signed in).
import qrcode from "qrcode-generator";
import { QrCode } from "../access/qr";
import { both_sides, type Forecast, type Side } from "../api/types";
import { context_of } from "../forms/context_of";
import type { FormProps } from "../forms/use_form";
import { Screen } from "../parts/screen";
import { with_alarms } from "../state/alarms";
import { cells_to_take } from "../state/cells_to_take";
import { by_the_clock } from "../state/dated";
import { kept_help } from "../state/help";
import { concerns, type Intention } from "../state/intention";
import { alarm_sentence, calls_for_change, is_old, order_stands } from "../state/side_view";
import { zone_of } from "../time/place";
import { wall_time } from "../time/zone";
import { disclaimer } from "../words/cautions";
import { side_name } from "../words/names";
import { dated_words } from "./dated_words";
import { phrase_of } from "../words/phrases";
import { take_words } from "../words/take";
import { call, first_steps } from "../words/wrong";
import { tell } from "../words/catalogue/behind";

const lines = 9;

function square_code(text: string): string[] {
  const code = qrcode(0, "M");
  code.addData(text);
  code.make();
  const each = Array.from({ length: code.getModuleCount() }, (_, index) => index);
  return each.map((row) => each.map((column) => (code.isDark(row, column) ? "1" : "0")).join(""));
}

/// The dates hold until the first of them has come; a side with no date, one to be changed now, or one that something on its
/// way concerns makes no card.
export function card_dates(forecast: Forecast | null, waiting: readonly Intention[], now: Date): { dates: Record<Side, string>; not_after: string } | { why: string } {
  if (!forecast) return { why: tell("card.there_is_no_forecast_to_print") };
  if (is_old(forecast, now)) return { why: tell("card.the_forecast_is_old_print_the") };
  const { sides } = with_alarms(by_the_clock(forecast, now), waiting);
  for (const side of both_sides) {
    const told = sides[side];
    if (told.warned_at || told.stopped_at) return { why: alarm_sentence(side, told, zone_of(forecast), null) };
    if (waiting.some((one) => concerns(one, side)) && !order_stands(told, side, waiting)) return { why: tell("card.print_it_once_it_is_sent", { side: side_name[side] }) };
    if (calls_for_change(told)) return { why: tell("card.print_the_card_after_the_change", { side: side_name[side], words: phrase_of({ phrase: told.phrase }).words }) };
    if (!told.change_by) return { why: tell("card.no_date_to_print", { side: side_name[side] }) };
  }
  const dates = { left: sides.left.change_by ?? "", right: sides.right.change_by ?? "" };
  return { dates, not_after: Date.parse(dates.left) < Date.parse(dates.right) ? dates.left : dates.right };
}

function Steps() {
  const help = kept_help();
  const steps = help?.steps ?? first_steps;
  return (
    <ol>
      {steps.map((step) => <li key={step.words}>{step.words}</li>)}
      <li>{`${call} ${help?.number ?? tell("card.number")}`}</li>
    </ol>
  );
}

function Lines() {
  return (
    <table class="written">
      <thead>
        <tr>
          {[tell("card.day"), tell("card.time"), tell("card.side"), tell("card.lot"), tell("card.why")].map((name) => <th key={name} scope="col">{name}</th>)}
        </tr>
      </thead>
      <tbody>
        {Array.from({ length: lines }, (_, index) => (
          <tr key={index}>
            {[tell("card.day"), tell("card.time"), tell("card.side"), tell("card.lot"), tell("card.why")].map((name) => <td key={name} />)}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

export function Card({ desk, done }: FormProps) {
  const { forecast, household, now, waiting } = desk.value;
  const { zone } = context_of(desk);
  const told = card_dates(forecast, waiting, now);
  const address = `${window.location.origin}/h/${encodeURIComponent(desk.name)}`;
  if ("why" in told) {
    return (
      <Screen title={tell("card.a_card_for_the_fridge")} back={done}>
        <p class="strong">{told.why}</p>
      </Screen>
    );
  }
  // No lot: by then it may be used up, and one that suffices for a side may not for both.
  const take = forecast && { ...cells_to_take(household, forecast), lot: null };
  return (
    <Screen title={tell("card.a_card_for_the_fridge")} back={done}>
      <p class="told">{tell("card.for_whoever_has_no_phone_at")}</p>
      <p class="told">
        <button class="main" type="button" onClick={() => window.print()}>
          {tell("card.print_it")}
        </button>
      </p>
      <section class="card printed fridge" aria-label={tell("card.the_card")}>
        <h2>{tell("card.cells_of_household", { name: desk.name })}</h2>
        <p>{tell("card.printed_on_not_after", { on: dated_words(now, zone, now), year: wall_time(now, zone).year, last: dated_words(new Date(told.not_after), zone, now) })}</p>
        <dl>
          {both_sides.map((side) => (
            <div key={side}>
              <dt>{side_name[side]}</dt>
              <dd>
                {tell("card.change_by")}{" "}<b>{dated_words(new Date(told.dates[side]), zone, now)}</b>
                {take && <p>{take_words(take, side)}</p>}
              </dd>
            </div>
          ))}
        </dl>
        <p class="strong">{disclaimer}</p>
        <h3>{tell("card.something_is_wrong")}</h3>
        <Steps />
        <h3>{tell("card.changed_and_recorded_later")}</h3>
        <Lines />
        <div class="address">
          <QrCode rows={square_code(address)} words={tell("card.square_code_of_the_address", { address })} />
          <p>
            {tell("card.for_phones_that_are_signed_in")}
            <span class="line">{address}</span>
          </p>
        </div>
      </section>
    </Screen>
  );
}
