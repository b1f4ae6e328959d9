// SPDX-License-Identifier: MIT
// The service's questions about one side, each with its answers. A question names its side, so the form that an
// answer opens may have that side filled in.
import { useState } from "preact/hooks";
import type { Question, Side, SideForecast } from "../api/types";
import type { Desk } from "../state/desk";
import { context_of } from "../forms/context_of";
import { open_screen } from "../state/screen";
import { moment_words } from "../words/moments";
import { answer_words, asks_since_when, is_shown, offers_for, unsure_words, type QuestionAct } from "../words/questions";
import { LastSeen } from "./last_seen";
import { tell } from "../words/catalogue/first";

interface Props {
  desk: Desk;
  side: Side;
  told: SideForecast;
  /// The card asks for a change.
  act: boolean;
}

function answer(desk: Desk, side: Side, question: Question, act: QuestionAct): void {
  const words = answer_words[act];
  if (words) void desk.mean({ path: "answers", body: { entry: question.entry, answer: act }, side, words });
  else open_screen(act, { side, ...(act === "end" && { entry: String(question.entry ?? "") }) });
}

/// Not knowing is an answer too: nothing is recorded, and what follows from it is said.
function Unsure({ side, close }: { side: Side; close: () => void }) {
  return (
    <>
      <p role="status">{unsure_words}</p>
      <div class="answers">
        <button type="button" onClick={() => open_screen("reading", { side })}>
          {tell("questions.note_a_reading")}
        </button>
        <button type="button" onClick={close}>
          {tell("questions.close")}
        </button>
      </div>
    </>
  );
}

/// "Were they changed?" wants to know since when: the last change that anyone recorded.
function LastChange({ desk, told }: Pick<Props, "desk" | "told">) {
  const { zone } = context_of(desk);
  const since = told.cells_since;
  return <p>{since ? tell("questions.last_change_recorded", { moment: moment_words(new Date(since), desk.value.now, zone) }) : tell("questions.no_change_recorded")}</p>;
}

function Asked({ desk, side, told, question, act }: Props & { question: Question }) {
  const [unsure, set_unsure] = useState(false);
  const offers = offers_for(question.code, act);
  return (
    <div class="question">
      {question.code === "were_cells_changed" && <LastSeen desk={desk} side={side} />}
      <p class="strong">{question.text}</p>
      {asks_since_when(question.code) && <LastChange desk={desk} told={told} />}
      {unsure && <Unsure side={side} close={() => set_unsure(false)} />}
      {!unsure && offers.length > 0 && (
        <div class="answers">
          {offers.map((offer) => (
            <button type="button" key={offer.act} onClick={() => (offer.act === "unsure" ? set_unsure(true) : answer(desk, side, question, offer.act))}>
              {offer.words}
            </button>
          ))}
        </div>
      )}
    </div>
  );
}

export function Questions(props: Props) {
  const shown = props.told.questions?.filter((question) => is_shown(question.code, props.act)) ?? [];
  return <>{shown.map((question) => <Asked key={question.code} question={question} {...props} />)}</>;
}
