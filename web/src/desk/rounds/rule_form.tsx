// SPDX-License-Identifier: MIT
// One rule of the calendar: which area, on which weekdays and dates, with how many stops, how long before.
import { useState } from "preact/hooks";
import { Refused } from "../../access/refused";
import type { Problem, Weekday } from "../../api/types";
import { Input, Ticks } from "../../parts/fields";
import type { Said } from "../common/said";
import { count_of, list_words } from "../common/words";
import type { Rule } from "../round_types";

export const empty_rule: Rule = { name: "", area: "", weekdays: [], dates: [], not_on: [], stops: 30, lead_days: 2 };

const days: readonly { value: Weekday; words: string; plural: string }[] = [
  { value: "mon", words: "Mon", plural: "Mondays" }, { value: "tue", words: "Tue", plural: "Tuesdays" }, { value: "wed", words: "Wed", plural: "Wednesdays" },
  { value: "thu", words: "Thu", plural: "Thursdays" }, { value: "fri", words: "Fri", plural: "Fridays" }, { value: "sat", words: "Sat", plural: "Saturdays" }, { value: "sun", words: "Sun", plural: "Sundays" },
];

export function rule_words(rule: Rule): string {
  const when = [days.filter((one) => rule.weekdays.includes(one.value)).map((one) => one.plural).join(", "), rule.dates.length > 0 && `on ${rule.dates.join(", ")}`].filter(Boolean);
  const not = rule.not_on.length ? `, not on ${rule.not_on.join(", ")}` : "";
  return `Area ${rule.area}, ${when.length ? list_words(when as string[]) : "no day"}${not}; up to ${count_of(rule.stops, "stop")}, a new one until ${count_of(rule.lead_days, "day")} before.`;
}

const dates_of = (text: string): string[] => text.split(/[\s,;]+/).filter(Boolean);

interface Props {
  rule: Rule;
  areas: readonly string[];
  busy: boolean;
  said: Said | null;
  problem: Problem | null;
  /// Where the rule stands in what is sent: refusals name places.
  at: string;
  keep: (rule: Rule) => void;
  leave: () => void;
}

export function RuleForm({ rule, areas, busy, said, problem, at, keep, leave }: Props) {
  const [draft, set_draft] = useState({ ...rule, dates: rule.dates.join(" "), not_on: rule.not_on.join(" "), stops: String(rule.stops), lead_days: String(rule.lead_days) });
  const set = (part: Partial<typeof draft>): void => set_draft({ ...draft, ...part });
  const error = (name: string): string | undefined => problem?.errors?.find((one) => one.place.startsWith(`${at}/${name}`))?.reason;
  const made: Rule = { ...draft, name: draft.name.trim(), area: draft.area.trim(), dates: dates_of(draft.dates), not_on: dates_of(draft.not_on), stops: Number(draft.stops), lead_days: Number(draft.lead_days) };
  const send = (event: Event): void => {
    event.preventDefault();
    keep(made);
  };
  return (
    <form class="adjust" onSubmit={send}>
      <Refused said={said} />
      <div class="pair">
        <Input name="name" legend="Name" value={draft.name} error={error("name")} max_length={40} onChange={(name) => set({ name })} />
        <Input name="area" legend={areas.length ? `Area (${areas.slice(0, 4).join(", ")}…)` : "Area"} value={draft.area} error={error("area")} max_length={40} onChange={(area) => set({ area })} />
      </div>
      <Ticks name="weekdays" legend="Every" chosen={draft.weekdays} choices={days} onChange={(weekdays) => set({ weekdays: weekdays as Weekday[] })} />
      <div class="pair">
        <Input name="dates" legend="Further dates (2026-12-24)" value={draft.dates} error={error("dates")} onChange={(dates) => set({ dates })} />
        <Input name="not_on" legend="Not on (2026-12-25)" value={draft.not_on} error={error("not_on")} onChange={(not_on) => set({ not_on })} />
      </div>
      <div class="pair">
        <Input name="stops" legend="Stops at most" keys="numeric" value={draft.stops} error={error("stops")} onChange={(stops) => set({ stops })} />
        <Input name="lead_days" legend="New stops until" after="days before" keys="numeric" value={draft.lead_days} error={error("lead_days")} onChange={(lead_days) => set({ lead_days })} />
      </div>
      <div class="answers">
        <button type="submit" class="main" disabled={busy || !made.name || !made.area || !(made.stops > 0) || !(made.lead_days >= 0)}>
          Keep these rounds
        </button>
        <button type="button" onClick={leave}>
          Leave it
        </button>
      </div>
    </form>
  );
}
