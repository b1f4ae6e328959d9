// SPDX-License-Identifier: MIT
// The service's questions about one side, each with its answers. A question names its side, so the form that an
// answer opens may have that side filled in.
import type { Question, Side } from "../api/types";
import type { Desk } from "../state/desk";
import { open_screen } from "../state/screen";
import { offers_for, type QuestionAct } from "../words/questions";

function answer(desk: Desk, side: Side, question: Question, act: QuestionAct): void {
  if (act === "change" || act === "reading") {
    open_screen(act, { side });
    return;
  }
  const words = act === "same" ? "One change, not two" : "Two changes";
  void desk.mean({ path: "answers", body: { entry: question.entry, answer: act }, side, words });
}

export function Questions({ desk, side, questions }: { desk: Desk; side: Side; questions: Question[] }) {
  return (
    <>
      {questions.map((question) => (
        <div class="question" key={question.code}>
          <p>{question.text}</p>
          <div class="answers">
            {offers_for(question.code).map((offer) => (
              <button type="button" key={offer.act} onClick={() => answer(desk, side, question, offer.act)}>
                {offer.words}
              </button>
            ))}
          </div>
        </div>
      ))}
    </>
  );
}
