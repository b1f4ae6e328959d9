// SPDX-License-Identifier: MIT
// "What is planned": what is in force and what is to come, each with its end and its undo, and the forms for more.
import { useState } from "preact/hooks";
import { both_sides, type Plan } from "../api/types";
import { end_words } from "../forms/end_model";
import type { FormProps } from "../forms/use_form";
import { Ahead } from "../parts/ahead";
import { JustRecorded, Waiting } from "../parts/notes";
import { PackingList } from "../parts/packing_list";
import { Screen } from "../parts/screen";
import type { Desk } from "../state/desk";
import { is_plan } from "../state/intention";
import { open_screen } from "../state/screen";
import { is_old } from "../state/side_view";
import { age_words } from "../words/moments";
import { plan_words } from "../words/names";
import { tell } from "../words/catalogue/plan";

interface Way {
  screen: string;
  words: string;
  hint?: string;
  given?: Record<string, string>;
}

const for_now: readonly Way[] = [
  { screen: "paced_more", words: tell("plans.paced_more_for_now"), hint: tell("plans.an_infection_for_instance") },
  { screen: "less", words: tell("plans.paced_less_for_now"), hint: tell("plans.or_switched_off") },
  { screen: "paced_more", words: tell("plans.no_mains"), hint: tell("plans.no_mains_hint"), given: { mains: "none" } },
  { screen: "no_deliveries", words: tell("plans.no_deliveries"), hint: tell("plans.no_deliveries_hint") },
];
const in_hospital: Way = { screen: "hospital", words: tell("plans.in_hospital") };
const back_home: Way = { screen: "back_home", words: tell("plans.back_home"), hint: tell("plans.from_hospital") };
const to_come: readonly Way[] = [
  { screen: "settings", words: tell("plans.new_settings"), hint: tell("plans.from_now_or_from_a_coming") },
  { screen: "settings", words: tell("plans.pacing_that_grows"), hint: tell("plans.longer_week_by_week"), given: { grows: "yes", paced: "spans" } },
  { screen: "visit", words: tell("plans.a_visit_that_wants_fresh_cells") },
  { screen: "away", words: tell("plans.going_away") },
  { screen: "unit", words: tell("plans.the_unit_changes"), hint: tell("plans.a_spare_put_into_service_for") },
];
const worked_out: readonly Way[] = [{ screen: "compare", words: tell("plans.with_other_settings_or_another_cell"), hint: tell("plans.works_out_what_follows_records_nothing") }];

function Ways({ title, ways }: { title: string; ways: readonly Way[] }) {
  return (
    <section class="ways">
      <h2>{title}</h2>
      {ways.map(({ screen, words, hint, given }) => (
        <button type="button" key={words} onClick={() => open_screen(screen, given)}>
          <span>{words}</span>
          {hint && <small>{hint}</small>}
        </button>
      ))}
    </section>
  );
}

function PlanRow({ desk, plan, packed }: { desk: Desk; plan: Plan; packed: boolean }) {
  const [busy, set_busy] = useState(false);
  const { entry, packing } = plan;
  const text = plan_words(plan);
  const begun = Date.parse(plan.from) <= desk.value.now.getTime();
  const sides = plan.sides.length || plan.kind === "stay" ? plan.sides : [...both_sides];
  const undo = (): void => {
    set_busy(true);
    void desk.undo({ entry: { id: entry ?? "" }, side: null, sides, about: "plan", words: text.replace(/\.$/, "") }).finally(() => set_busy(false));
  };
  return (
    <li>
      <p>{text}</p>
      {packed && packing && (
        <details>
          <summary>{tell("plans.what_to_pack")}</summary>
          <PackingList packing={packing} />
        </details>
      )}
      <div class="answers">
        {plan.kind === "hospital" && begun && (
          <button type="button" onClick={() => open_screen("back_home")}>
            {tell("plans.back_home")}
          </button>
        )}
        {begun && plan.can_end && entry !== null && (
          <button type="button" onClick={() => open_screen("end", { entry: String(entry) })}>
            {end_words(plan)}
            <span class="unseen">{`: ${text}`}</span>
          </button>
        )}
        {entry !== null && (
          <button type="button" disabled={busy} onClick={undo}>
            {begun ? tell("plans.it_was_a_mistake") : tell("plans.take_it_back")}
            <span class="unseen">{`: ${text}`}</span>
          </button>
        )}
      </div>
    </li>
  );
}

/// What is on its way, what was just recorded, and all that stands.
function Listed({ desk }: { desk: Desk }) {
  const { forecast, signal, now } = desk.value;
  const on_the_way = desk.value.waiting.filter(is_plan);
  const just = desk.value.recorded.filter(is_plan);
  if (!forecast) return <p role="status">{signal ? tell("plans.asking") : tell("plans.no_signal_the_plans_cannot_be")}</p>;
  const plans = forecast.plans ?? [];
  return (
    <>
      {(on_the_way.length > 0 || just.length > 0) && (
        <section class="card" aria-label={tell("plans.just_recorded")}>
          {on_the_way.map((one) => <Waiting key={one.key} intention={one} />)}
          {just.map((one) => <JustRecorded key={one.entry.id} desk={desk} one={one} />)}
        </section>
      )}
      {!signal && <p role="status">{tell("plans.no_signal_as_it_was", { age: age_words(now.getTime() - Date.parse(forecast.as_of)) })}</p>}
      {plans.length === 0 && <p>{tell("plans.nothing_is_planned")}</p>}
      <ul class="entries plans">
        {plans.map((plan) => <PlanRow key={`${plan.entry}${plan.kind}${plan.from}`} desk={desk} plan={plan} packed={!is_old(forecast, now)} />)}
      </ul>
    </>
  );
}

export function Plans({ desk, done }: FormProps) {
  const away = desk.value.forecast?.in_hospital ?? desk.value.household?.in_hospital;
  return (
    <Screen title={tell("plans.what_is_planned")} back={done}>
      {desk.value.forecast && <Ahead forecast={desk.value.forecast} waiting={desk.value.waiting} now={desk.value.now} />}
      <Listed desk={desk} />
      <Ways title={tell("plans.different_for_now")} ways={[...for_now, away ? back_home : in_hospital]} />
      <Ways title={tell("plans.to_come")} ways={to_come} />
      <Ways title={tell("plans.what_would_follow")} ways={worked_out} />
    </Screen>
  );
}
