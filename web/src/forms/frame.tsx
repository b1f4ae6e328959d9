// SPDX-License-Identifier: MIT
// What every form has around its fields: the way back, what was refused, what will be recorded, the question asked
// once more, and the one button that sends.
import type { ComponentChildren } from "preact";
import { side_name } from "../words/names";
import { moment_words } from "../words/moments";
import { Screen } from "../parts/screen";
import type { Form } from "./use_form";

interface Props {
  title: string;
  form: Form;
  back: () => void;
  send_words?: string;
  children: ComponentChildren;
}

function Ask({ form }: { form: Form }) {
  const { model, context, now } = form;
  if (form.asking === "future") {
    return (
      <div class="ask" role="alert">
        <h2 tabIndex={-1}>That time has not come yet.</h2>
        <p>{model.summary}</p>
        <p>It would count only once its time has come. Is it meant so?</p>
        <Answers form={form} yes="Yes, record it" no="No, mend the time" />
      </div>
    );
  }
  if (form.asking !== "not_due") return null;
  const sides = model.not_due ?? [];
  const name = sides.join(" and the ");
  const due = sides.map((side) => {
    const by = context.forecast?.sides[side].change_by;
    return by ? `${side_name[side]}: change by ${moment_words(new Date(by), now, context.zone)}.` : "";
  });
  return (
    <div class="ask" role="alert">
      <h2 tabIndex={-1}>{`The ${name} side is not due. Was it the ${name} cells?`}</h2>
      {due.filter(Boolean).map((line) => <p key={line}>{line}</p>)}
      <Answers form={form} yes={`Yes, the ${name} cells`} no="No, choose again" />
    </div>
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

export function FormFrame({ title, form, back, children, send_words = "Record this" }: Props) {
  const refused = form.other_errors.length > 0 || Object.keys(form.errors).length > 0;
  const summary = refused ? "" : form.model.summary;
  const submit = (event: Event): void => {
    event.preventDefault();
    form.submit();
  };
  return (
    <Screen title={title} back={back}>
      <form onSubmit={submit} noValidate>
        {form.other_errors.map((error) => (
          <p class="error" role="alert" key={error}>
            {error}
          </p>
        ))}
        {children}
        <div class="summary" aria-live="polite">
          {summary && (
            <>
              <h2>Will be recorded</h2>
              <p>{summary}</p>
            </>
          )}
        </div>
        <Ask form={form} />
        {!form.asking && (
          <button class="main" type="submit" disabled={form.sending}>
            {form.sending ? "Sending…" : send_words}
          </button>
        )}
      </form>
    </Screen>
  );
}
