// SPDX-License-Identifier: MIT
// What every form has around its fields: the way back, what was refused, what will be recorded, the question asked
// once more, and the one button that sends.
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { alarm_first, disclaimer } from "../words/cautions";
import { side_name } from "../words/names";
import { moment_words } from "../words/moments";
import { Fault } from "../parts/fault";
import { Screen } from "../parts/screen";
import type { Form } from "./use_form";
import { tell } from "../words/catalogue/record";

interface Props {
  title: string;
  form: Form;
  back: () => void;
  send_words?: string;
  children: ComponentChildren;
}

/// The answers come into sight with the question: below a small screen's edge it would look as if all was recorded.
function Question({ heading, children }: { heading: string; children: ComponentChildren }) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => box.current?.scrollIntoView({ block: "start" }), []);
  return (
    <div class="ask" role="alert" ref={box}>
      <h2 tabIndex={-1}>{heading}</h2>
      <p class="strong">{tell("frame.not_recorded_yet")}</p>
      {children}
    </div>
  );
}

function Ask({ form }: { form: Form }) {
  const { model, context, now } = form;
  if (form.asking === "future") {
    return (
      <Question key="future" heading={tell("frame.that_time_has_not_come_yet")}>
        <p>{model.summary}</p>
        <p>{tell("frame.it_would_count_only_once_its")}</p>
        <Answers form={form} yes={tell("frame.yes_record_it")} no={tell("frame.no_mend_the_time")} />
      </Question>
    );
  }
  if (form.asking === "beyond") {
    return (
      <Question key="beyond" heading={tell("frame.beyond")}>
        {model.beyond?.map((line) => <p key={line}>{line}</p>)}
        <Answers form={form} yes={tell("frame.as_the_clinician_gave_them")} no={tell("frame.no_mend_them")} />
      </Question>
    );
  }
  if (form.asking !== "not_due") return null;
  const sides = model.not_due ?? [];
  const name = sides.map((side) => tell(side === "left" ? "frame.left" : "frame.right")).join(tell("frame.and_the"));
  const due = sides.map((side) => {
    const by = context.forecast?.sides[side].change_by;
    return by ? tell("frame.change_by", { side: side_name[side], moment: moment_words(new Date(by), now, context.zone) }) : "";
  });
  return (
    <Question key="not_due" heading={tell("frame.the_side_is_not_due_was", { name })}>
      {due.filter(Boolean).map((line) => <p key={line}>{line}</p>)}
      {due.some(Boolean) && <p>{disclaimer}</p>}
      <Answers form={form} yes={tell("frame.yes_the_cells", { name })} no={tell("frame.no_choose_again")} />
    </Question>
  );
}

function Answers({ form, yes, no }: { form: Form; yes: string; no: string }) {
  return (
    <div class="answers">
      <button type="button" onClick={form.confirm}>
        {yes}
      </button>
      <button type="button" onClick={form.take_back}>
        {no}
      </button>
    </div>
  );
}

export function FormFrame({ title, form, back, children, send_words = tell("frame.record_this") }: Props) {
  const refused = form.other_errors.length > 0 || Object.keys(form.errors).length > 0;
  const summary = refused ? "" : form.model.summary;
  const fields = useRef(children);
  if (!form.sending) fields.current = children;  // while it is on its way they stay as they are, and are not drawn again
  const submit = (event: Event): void => {
    event.preventDefault();
    form.submit();
  };
  return (
    <Screen title={title} back={back} says={alarm_first}>
      <form onSubmit={submit} noValidate>
        {form.other_errors.map((error) => <Fault key={error} role="alert" error={error} />)}
        {fields.current}
        <Ask form={form} />
        <div class={form.asking ? "" : "record"}>
          <div class="summary" aria-live="polite">
            {summary && (
              <>
                <h2>{tell("frame.will_be_recorded")}</h2>
                <p>{summary}</p>
              </>
            )}
          </div>
          {!form.asking && (
            <button class="main" type="submit" aria-disabled={form.sending || undefined}>
              {form.sending ? tell("frame.sending") : send_words}
            </button>
          )}
        </div>
      </form>
    </Screen>
  );
}
