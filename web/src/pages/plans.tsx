// SPDX-License-Identifier: MIT
// "What is planned": what is in force and what is to come, each with its end and its undo, and the forms for more.
import { useState } from "preact/hooks";
import { both_sides, type Plan } from "../api/types";
import { end_words } from "../forms/end_model";
import { JustRecorded, Waiting } from "../parts/notes";
import { PackingList } from "../parts/packing_list";
import { Screen } from "../parts/screen";
import type { Desk } from "../state/desk";
import { is_plan } from "../state/intention";
import { open_screen } from "../state/screen";
import { is_old } from "../state/side_view";
import { age_words } from "../words/moments";
import { plan_words } from "../words/names";

interface Way {
  screen: string;
  words: string;
  hint?: string;
  given?: Record<string, string>;
}

const for_now: readonly Way[] = [{ screen: "paced_more", words: "Paced more for now", hint: "an infection, for instance" }];
const in_hospital: Way = { screen: "hospital", words: "In hospital" };
const back_home: Way = { screen: "back_home", words: "Back home", hint: "from hospital" };
const to_come: readonly Way[] = [
  { screen: "settings", words: "New settings", hint: "from now, or from a coming day" },
  { screen: "settings", words: "Pacing that grows", hint: "longer week by week", given: { grows: "yes", paced: "spans" } },
  { screen: "visit", words: "A visit that wants fresh cells" },
  { screen: "away", words: "Going away" },
  { screen: "unit", words: "The unit changes", hint: "a spare put into service, for instance" },
];
const worked_out: readonly Way[] = [{ screen: "compare", words: "With other settings or another cell", hint: "works out what follows, records nothing" }];

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
          <summary>What to pack</summary>
          <PackingList packing={packing} />
        </details>
      )}
      <div class="answers">
        {plan.kind === "hospital" && begun && (
          <button type="button" onClick={() => open_screen("back_home")}>
            Back home
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
            {begun ? "It was a mistake" : "Take it back"}
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
  if (!forecast) return <p role="status">{signal ? "Asking…" : "No signal: the plans cannot be shown now."}</p>;
  const plans = forecast.plans ?? [];
  return (
    <>
      {(on_the_way.length > 0 || just.length > 0) && (
        <section class="card" aria-label="Just recorded">
          {on_the_way.map((one) => <Waiting key={one.key} intention={one} />)}
          {just.map((one) => <JustRecorded key={one.entry.id} desk={desk} one={one} />)}
        </section>
      )}
      {!signal && <p role="status">{`No signal: as it was ${age_words(now.getTime() - Date.parse(forecast.as_of))}.`}</p>}
      {plans.length === 0 && <p>Nothing is planned.</p>}
      <ul class="entries plans">
        {plans.map((plan) => <PlanRow key={`${plan.entry}${plan.kind}${plan.from}`} desk={desk} plan={plan} packed={!is_old(forecast, now)} />)}
      </ul>
    </>
  );
}

export function Plans({ desk, back }: { desk: Desk; back: () => void }) {
  const away = desk.value.forecast?.in_hospital ?? desk.value.household?.in_hospital;
  return (
    <Screen title="What is planned" back={back}>
      <Listed desk={desk} />
      <Ways title="Different for now" ways={[...for_now, away ? back_home : in_hospital]} />
      <Ways title="To come" ways={to_come} />
      <Ways title="What would follow" ways={worked_out} />
    </Screen>
  );
}
