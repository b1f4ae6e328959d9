// SPDX-License-Identifier: MIT
// When it happened: now, last evening at the changing time, or another time by the household's clock.
import { Choices, Input } from "../parts/fields";
import type { Draft } from "../state/draft";
import { last_evening, moment_of, read_wall, rfc3339, wall_text, wall_time } from "../time/zone";
import { moment_words } from "../words/moments";
import { field, type Context, type Fields } from "./context";
import { tell } from "../words/catalogue/record";

function evening_of(context: Context, now: Date): Date {
  return last_evening(context.changing_times.at(-1) ?? "21:30", now, context.zone);
}

export function when_of(draft: Draft, context: Context, now: Date): Date | null {
  if ((draft.when ?? "now") === "now") return now;
  if (draft.when === "evening") return evening_of(context, now);
  const wall = read_wall(draft.other ?? "");
  return wall && moment_of(wall, context.zone);
}

export function when_fields(at: Date | null, context: Context, now: Date): { at: string; words: string; errors: Record<string, string> } {
  if (!at) return { at: "", words: "", errors: { other: tell("when.give_the_day_and_the_time", { value: context.place ?? tell("when.at_home") }) } };
  return { at: rfc3339(at, context.zone), words: moment_words(at, now, context.zone), errors: {} };
}

/// A plan may lie ahead. Then its time is meant so, and the service need not ask whether it is.
export function plan_from(at: Date, context: Context, now: Date): { words: string; confirmed: { confirmed?: string[] } } {
  const ahead = at.getTime() > now.getTime();
  return { words: tell(ahead ? "when.from" : "when.since", { moment: moment_words(at, now, context.zone) }), confirmed: ahead ? { confirmed: ["future-date"] } : {} };
}

interface Props {
  form: Fields & { context: Context; now: Date };
  evening?: boolean;
  legend?: string;
}

export function When({ form, evening = false, legend = tell("when.when") }: Props) {
  const { draft, change, context, now } = form;
  const when = field(form, "when", "now");
  const choices = [
    { value: "now", words: tell("when.now") },
    ...(evening ? [{ value: "evening", words: tell("when.last_evening"), hint: moment_words(evening_of(context, now), now, context.zone) }] : []),
    { value: "other", words: tell("when.another_time") },
  ];
  const chosen = (value: string): void => {
    const begin: Draft = value === "other" && !draft.other ? { other: wall_text(wall_time(now, context.zone)) } : {};
    change({ when: value, ...begin });
  };
  return (
    <>
      <Choices {...when} legend={legend} inline choices={choices} onChange={chosen} />
      {when.value === "other" && <Input {...field(form, "other")} legend={tell("when.day_and_time_by_the_clock", { value: context.place ?? tell("when.at_home") })} type="datetime-local" />}
    </>
  );
}
