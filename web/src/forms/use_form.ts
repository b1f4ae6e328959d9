// SPDX-License-Identifier: MIT
// The course of every form: show what is wrong at its field; ask once more where that protects; send; stay a
// moment for a quick answer; leave the rest to the outbox. A refusal comes back with the draft untouched.
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { problem_code } from "../api/client";
import type { Problem } from "../api/types";
import { draft_again, store_draft, useDraft, type Draft } from "../state/draft";
import type { Desk } from "../state/desk";
import { intend, type FormName, type Meant } from "../state/intention";
import { stated } from "../time/service_clock";
import { rfc3339 } from "../time/zone";
import { field_of, type Context, type FieldOfPlace, type Fields, type Model, type ModelOf } from "./context";
import { context_of } from "./context_of";

export interface FormSetup {
  name: FormName;
  desk: Desk;
  given: Draft;
  model_of: ModelOf;
  fields: FieldOfPlace;
  /// Called with what was sent; without, when the form is left.
  done: (sent?: Draft) => void;
}

export type FormProps = Omit<FormSetup, "name" | "model_of" | "fields">;

export type Asking = "not_due" | "beyond" | "future" | null;

export interface Form extends Fields {
  context: Context;
  now: Date;
  model: Model;
  other_errors: string[];
  asking: Asking;
  sending: boolean;
  submit: () => void;
  confirm: () => void;
  take_back: () => void;
}

const patience_ms = 800;

export function refused_fields(problem: Problem | null, fields: FieldOfPlace): { at: Record<string, string>; rest: string[] } {
  const at: Record<string, string> = {};
  const rest: string[] = [];
  if (!problem || problem_code(problem) === "future-date") return { at, rest };
  for (const { place, reason } of problem.errors ?? []) {
    const field = field_of(place, fields);
    if (field) at[field] = reason;
    else rest.push(reason);
  }
  if (!problem.errors?.length) rest.push(problem.detail ?? problem.title);
  return { at, rest };
}

export function focus_first_error(): void {
  requestAnimationFrame(() => {
    document.querySelector<HTMLElement>(".field.wrong input:checked, .field.wrong input, .field.wrong select, .ask h2")?.focus();
  });
}

export function useForm({ name, desk, given, model_of, fields, done }: FormSetup): Form {
  const { draft, refused: refused_key, change: set_draft, take_up } = useDraft(desk.name, name, given);
  const [tried, set_tried] = useState(false);
  const [asked, set_asked] = useState<Asking>(null);
  const [mended, set_mended] = useState(false);  // why it was refused is told until something is changed
  const sending = useRef(false);  // drawn with what is on its way, of which the desk tells the page
  const open = useRef(true);
  useEffect(() => () => void (open.current = false), []);
  const refusal = desk.value.refusals.find((one) => one.intention.key === refused_key) ?? null;
  const problem = mended ? null : (refusal?.problem ?? null);
  const future = problem !== null && problem_code(problem) === "future-date";
  const refused = refused_fields(problem, fields);
  const context = context_of(desk);
  const { household, forecast, told } = desk.value;
  const now_ms = stated(desk.value.now).getTime();
  const now = useMemo(() => new Date(now_ms), [now_ms]);
  const model = useMemo(() => model_of(draft, context, now), [model_of, draft, household, forecast, told, now]);  // not anew while it is on its way

  const change = (part: Draft): void => {
    set_asked(null);
    set_mended(true);
    set_draft(part);
  };
  const send = async (confirmed: string[]): Promise<void> => {
    const at = stated(new Date());
    const fresh = model_of(draft, context, at);
    const as_now = (body: Meant["body"]): Pick<Meant, "as_now"> => {
      const place = draft.when === "other" ? undefined : (["at", "from"] as const).find((one) => body[one] === rfc3339(at, context.zone));
      return place ? { as_now: { place, zone: context.zone } } : {};
    };
    const extra = confirmed.length ? { confirmed } : {};
    set_asked(null);
    sending.current = true;
    const each_draft = (side: string | null | undefined): Draft => (side && draft.side === "both" ? { ...draft, side } : draft);
    const meant = fresh.posts.map((post) => intend({ ...post, ...as_now(post.body), body: { ...post.body, ...extra }, form: name, draft: each_draft(post.side) }));
    const sent = Promise.all(meant.map((one) => desk.send(one)));
    if (refusal) desk.settle(refusal);
    let patience: ReturnType<typeof setTimeout> | undefined;
    const settled = await Promise.race([sent, new Promise<null>((resolve) => void (patience = setTimeout(() => resolve(null), patience_ms)))]);
    clearTimeout(patience);
    if (settled?.includes(false)) {
      sending.current = false;
      const first = desk.value.refusals.find((one) => meant.some(({ key }) => key === one.intention.key));
      if (first) {
        desk.shown(first);
        take_up(draft_again(first.intention, context.zone), first.intention.key);
      }
      set_mended(false);
      return focus_first_error();
    }
    store_draft(desk.name, name, null);
    if (open.current) done(draft);  // whoever has left the form already is not taken anywhere
  };
  const submit = (): void => {
    if (sending.current) return;
    if (Object.keys(model.errors).length) {
      set_tried(true);
      return focus_first_error();
    }
    if (model.not_due?.some((side) => side !== given.side)) {
      set_asked("not_due");
      return focus_first_error();
    }
    if (model.beyond?.length) {
      set_asked("beyond");
      return focus_first_error();
    }
    void send([]);
  };
  const asking: Asking = future ? "future" : asked;
  return {
    draft, change, context, now, model, asking, submit,
    sending: sending.current,
    errors: { ...(tried ? model.errors : {}), ...refused.at },
    other_errors: refused.rest,
    confirm: () => void send(asking === "future" ? ["future-date"] : []),
    take_back: () => {
      set_asked(null);
      set_mended(true);
    },
  };
}
