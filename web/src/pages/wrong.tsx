// SPDX-License-Identifier: MIT
// "Something is wrong now": one tap from every screen, also without a signal. No forecast stands here.
import { useEffect, useRef } from "preact/hooks";
import { CallNumber } from "../parts/call_number";
import { kept_help } from "../state/help";
import { date_words } from "../words/moments";
import { approved, call, first_steps, last_step, limits, no_number, not_approved, title, type Step } from "../words/wrong";
import { tell } from "../words/catalogue/first";

function Told({ step }: { step: Step }) {
  return (
    <li>
      <p class="sentence">{step.words}</p>
      {step.more && <p>{step.more}</p>}
    </li>
  );
}

function Call({ number, label }: { number?: string | null | undefined; label?: string | null | undefined }) {
  return (
    <li>
      <p class="sentence">{call}</p>
      {number ? (
        <CallNumber number={number} label={label} />
      ) : (
        <p>{no_number}</p>
      )}
    </li>
  );
}

/// The wearer and the backup; whatever else an agency writes comes after the call.
const before_the_call = 2;

export function Wrong() {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    window.scrollTo(0, 0);
    heading.current?.focus({ preventScroll: true });
  }, []);
  const help = kept_help();
  const steps = help?.steps ?? [...first_steps, last_step];
  return (
    <main class="wrong-page">
      <button class="back" type="button" onClick={() => window.history.back()}>
        {tell("wrong.back")}
      </button>
      <h1 ref={heading} tabIndex={-1}>
        {title}
      </h1>
      <ol class="steps">
        {steps.slice(0, before_the_call).map((step) => <Told key={step.words} step={step} />)}
        <Call number={help?.number} label={help?.label} />
        {steps.slice(before_the_call).map((step) => <Told key={step.words} step={step} />)}
      </ol>
      <p>{limits}</p>
      <p class="small">{help?.approved_on ? approved(date_words(help.approved_on)) : not_approved}</p>
    </main>
  );
}
