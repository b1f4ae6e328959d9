// SPDX-License-Identifier: MIT
// When it happened: now, last evening at the changing time, or another time by the household's clock.
import { Choices, Input } from "../parts/fields";
import type { Draft } from "../state/draft";
import { last_evening, moment_of, read_wall, rfc3339, wall_text, wall_time } from "../time/zone";
import { moment_words } from "../words/moments";
import type { Context } from "./context";

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
  if (!at) return { at: "", words: "", errors: { other: "Give the day and the time by the clock at home." } };
  return { at: rfc3339(at, context.zone), words: moment_words(at, now, context.zone), errors: {} };
}

interface Props {
  draft: Draft;
  change: (part: Draft) => void;
  context: Context;
  now: Date;
  errors: Record<string, string>;
  evening?: boolean;
}

export function When({ draft, change, context, now, errors, evening = false }: Props) {
  const when = draft.when ?? "now";
  const choices = [
    { value: "now", words: "Now" },
    ...(evening ? [{ value: "evening", words: "Last evening", hint: moment_words(evening_of(context, now), now, context.zone) }] : []),
    { value: "other", words: "Another time" },
  ];
  const chosen = (value: string): void => {
    const begin: Draft = value === "other" && !draft.other ? { other: wall_text(wall_time(now, context.zone)) } : {};
    change({ when: value, ...begin });
  };
  return (
    <>
      <Choices name="when" legend="When" inline value={when} choices={choices} error={errors.when} onChange={chosen} />
      {when === "other" && (
        <Input
          name="other" legend="Day and time, by the clock at home" type="datetime-local" value={draft.other ?? ""} error={errors.other}
          onChange={(other) => change({ other })}
        />
      )}
    </>
  );
}
