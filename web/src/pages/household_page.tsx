// SPDX-License-Identifier: MIT
// The page of one household: its desk, and which screen is open.
import { useEffect, useMemo, useRef } from "preact/hooks";
import { AwayForm } from "../forms/away_form";
import { ChangeForm } from "../forms/change_form";
import { ReadingForm } from "../forms/reading_form";
import { BackHomeForm } from "../forms/back_home_form";
import { CompareForm } from "../forms/compare_form";
import { EndForm } from "../forms/end_form";
import { HospitalForm } from "../forms/hospital_form";
import { PacedMoreForm } from "../forms/paced_more_form";
import { SettingsForm } from "../forms/settings_form";
import { StockForm } from "../forms/stock_form";
import { UnitForm } from "../forms/unit_form";
import { context_of } from "../forms/use_form";
import { VisitForm } from "../forms/visit_form";
import { WarnedForm } from "../forms/warned_form";
import { DisclaimerBar } from "../parts/disclaimer";
import { recorded_words } from "../parts/notes";
import { Desk, type DeskState } from "../state/desk";
import { store_draft, type Draft } from "../state/draft";
import type { Intention } from "../state/intention";
import { open_screen, useScreen, type Screen } from "../state/screen";
import { useStore } from "../state/store";
import { wall_text, wall_time } from "../time/zone";
import { Entries } from "./entries";
import { Home } from "./home";
import { More } from "./more";
import { Plans } from "./plans";

const forms = {
  change: ChangeForm, reading: ReadingForm, warned: WarnedForm, stock: StockForm, away: AwayForm, paced_more: PacedMoreForm, settings: SettingsForm,
  visit: VisitForm, hospital: HospitalForm, back_home: BackHomeForm, unit: UnitForm, end: EndForm, compare: CompareForm,
};
const plan_forms: readonly string[] = ["paced_more", "settings", "visit", "hospital", "back_home", "unit", "end", "compare"];
const untimed: readonly string[] = ["stock", "away", "visit"];

const go_to = (screen: string) => (): void => window.location.replace(`#${screen}`);
const go_home = go_to("");

/// A plan's form was opened from the plans and leads back there. Back home leads to the first screen, where it says what
/// is known now; with other settings or another unit to their form. A form that a question opened (it names the side)
/// leads back to the question.
function way_on(screen: Screen): (sent?: Draft) => void {
  if (!plan_forms.includes(screen.name) || screen.given["side"]) return go_home;
  if (screen.name !== "back_home") return go_to("plans");
  return (sent) => {
    const next = sent?.settings === "changed" ? "settings" : sent?.unit === "changed" ? "unit" : "";
    go_to(next)();
  };
}

/// A refused "now" is no longer now: the form comes back with the time that was meant.
function draft_again(intention: Intention, zone: string): Draft {
  const draft = { ...(intention.draft as Draft) };
  const at = intention.body["at"] ?? intention.body["from"];
  if (typeof at === "string" && !untimed.includes(intention.form ?? "stock")) return { ...draft, when: "other", other: wall_text(wall_time(new Date(at), zone)) };
  return draft;
}

/// Read out by a screen reader as it changes.
function said_of({ waiting, recorded, now }: DeskState, zone: string): string {
  const on_the_way = waiting.at(-1);
  if (on_the_way) return `${on_the_way.words}, ${on_the_way.stage === "no_signal" ? "not sent yet" : "being sent"}.`;
  const last = recorded.at(-1);
  return last ? `${recorded_words(last, zone, now)} It can be undone for two minutes.` : "";
}

export function HouseholdPage({ name }: { name: string }) {
  const desk = useMemo(() => new Desk(name), [name]);
  const state = useStore(desk);
  const { refusal, household, forecast } = state;
  const screen = useScreen();
  const screens_before = useRef(0);
  useEffect(() => desk.start(), [desk]);
  useEffect(() => {
    const intention = refusal?.intention;
    if (!intention?.form || intention.form === screen.name) return;
    store_draft(name, intention.form, draft_again(intention, context_of(desk).zone), true);
    open_screen(intention.form);
  }, [refusal]);

  useEffect(() => {
    screens_before.current++;
  }, [screen.name]);

  const Form = forms[screen.name as keyof typeof forms];
  const { zone } = context_of(desk);
  return (
    <>
      {Form ? <Form key={window.location.hash} desk={desk} given={screen.given} done={way_on(screen)} /> : null}
      {screen.name === "entries" && <Entries desk={desk} zone={zone} back={go_home} />}
      {screen.name === "more" && <More household={household} cautions={forecast?.cautions ?? []} back={go_home} />}
      {screen.name === "plans" && <Plans desk={desk} back={go_home} />}
      {!Form && !["entries", "more", "plans"].includes(screen.name) && <Home desk={desk} returned={screens_before.current > 0} />}
      <DisclaimerBar />
      <div class="unseen" role="status">
        {said_of(state, zone)}
      </div>
    </>
  );
}
