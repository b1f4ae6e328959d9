// SPDX-License-Identifier: MIT
// The page of one household: its desk, and which screen is open.
import { useEffect, useMemo, useRef } from "preact/hooks";
import { AwayForm } from "../forms/away_form";
import { ChangeForm } from "../forms/change_form";
import { ReadingForm } from "../forms/reading_form";
import { StockForm } from "../forms/stock_form";
import { context_of } from "../forms/use_form";
import { WarnedForm } from "../forms/warned_form";
import { DisclaimerBar } from "../parts/disclaimer";
import { Desk } from "../state/desk";
import { store_draft, type Draft } from "../state/draft";
import type { Intention, Recorded } from "../state/intention";
import { open_screen, useScreen } from "../state/screen";
import { useStore } from "../state/store";
import { wall_text, wall_time } from "../time/zone";
import { Entries } from "./entries";
import { Home } from "./home";
import { More } from "./more";

const forms = { change: ChangeForm, reading: ReadingForm, warned: WarnedForm, stock: StockForm, away: AwayForm };

function go_home(): void {
  window.location.replace("#");
}

/// A refused "now" is no longer now: the form comes back with the time that was meant.
function draft_again(intention: Intention, zone: string): Draft {
  const draft = { ...(intention.draft as Draft) };
  const at = intention.body["at"];
  if (typeof at === "string" && "side" in draft) return { ...draft, when: "other", other: wall_text(wall_time(new Date(at), zone)) };
  return draft;
}

/// Read out by a screen reader as it changes.
function said_of(waiting: Intention[], recorded: Recorded[]): string {
  const on_the_way = waiting.at(-1);
  if (on_the_way) return `${on_the_way.words}, ${on_the_way.stage === "no_signal" ? "not sent yet" : "being sent"}.`;
  const last = recorded.at(-1);
  return last ? `Recorded: ${last.words} It can be undone for two minutes.` : "";
}

export function HouseholdPage({ name }: { name: string }) {
  const desk = useMemo(() => new Desk(name), [name]);
  const { refusal, household, forecast, waiting, recorded } = useStore(desk);
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
      {Form ? <Form key={window.location.hash} desk={desk} given={screen.given} done={go_home} /> : null}
      {screen.name === "entries" && <Entries desk={desk} zone={zone} back={go_home} />}
      {screen.name === "more" && <More household={household} cautions={forecast?.cautions ?? []} back={go_home} />}
      {!Form && screen.name !== "entries" && screen.name !== "more" && <Home desk={desk} returned={screens_before.current > 0} />}
      <DisclaimerBar />
      <div class="unseen" role="status">
        {said_of(waiting, recorded)}
      </div>
    </>
  );
}
