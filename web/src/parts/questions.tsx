// SPDX-License-Identifier: MIT
// The service's questions about one side, each with its answers. A question names its side, so the form that an
// answer opens may have that side filled in.
import { useState } from "preact/hooks";
import type { Question, Side } from "../api/types";
import type { Desk } from "../state/desk";
import { open_screen } from "../state/screen";
import { answer_words, is_shown, offers_for, unsure_words, type QuestionAct } from "../words/questions";
import { LastSeen } from "./last_seen";
import { tell } from "../words/catalogue/first";

interface Props {
  desk: Desk;
  side: Side;
  questions: Question[];
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

function Asked({ desk, side, question, act }: Omit<Props, "questions"> & { question: Question }) {
  const [unsure, set_unsure] = useState(false);
  const offers = offers_for(question.code, act);
  return (
    <div class="question">
      {question.code === "were_cells_changed" && <LastSeen desk={desk} side={side} />}
      <p>{question.text}</p>
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

export function Questions({ questions, ...rest }: Props) {
  const shown = questions.filter((question) => is_shown(question.code, rest.act));
  return <>{shown.map((question) => <Asked key={question.code} question={question} {...rest} />)}</>;
}
