// SPDX-License-Identifier: MIT
// A new part is taken into use in a home; what was in use ends, worn out or for another reason.
import { useState } from "preact/hooks";
import { Refused } from "../access/refused";
import { household_path } from "../api/client";
import { Choices, Input } from "../parts/fields";
import { useAct } from "../staff/act";
import { DoneLine } from "../staff/done_line";
import { moment_of, read_wall, rfc3339, wall_text, wall_time } from "../time/zone";
import type { Recorded } from "./api";
import { error_at } from "./form_parts";
import { undo_of_entry } from "./undo";
import { here } from "./words";
import { tell } from "../words/catalogue/bench";

const whys = [
  { value: "first", words: tell("bench.the_first_of_its_kind_there") },
  { value: "worn_out", words: tell("bench.the_one_before_was_worn_out") },
  { value: "other", words: tell("bench.the_one_before_came_out_for") },
];
const sides = [
  { value: "left", words: tell("bench.left_side") },
  { value: "right", words: tell("bench.right_side") },
  { value: "", words: tell("bench.of_no_side") },
];

export function PartForm({ again }: { again: () => Promise<void> }) {
  const act = useAct();
  const zone = here();
  const [form, set_form] = useState({ household: "", part: "antenna", side: "left", at: wall_text(wall_time(new Date(), zone)), why: "" });
  const [missing, set_missing] = useState<Record<string, string>>({});
  const set = (name: keyof typeof form) => (value: string): void => {
    set_missing({});
    set_form((before) => ({ ...before, [name]: value }));
  };
  const wrong = error_at(act.errors);
  const record = async (event: Event): Promise<void> => {
    event.preventDefault();
    const household = form.household.trim();
    const lacks = { ...(!household && { household: tell("bench.say_which_home") }), ...(!form.why && { why: tell("bench.choose_why") }) };
    set_missing(lacks);
    if (Object.keys(lacks).length) return;
    const wall = read_wall(form.at);
    const body = { part: form.part.trim(), ...(form.side && { side: form.side }), at: wall ? rfc3339(moment_of(wall, zone), zone) : form.at, why: form.why };
    const kept = await act.send<Recorded>(`${household_path(household)}/parts`, body);
    if (!kept) return;
    const part_name = form.part.trim();
    act.tell({ words: tell("bench.recorded_a_new_at", { part_name, household }), undo: undo_of_entry(household, kept, act, again) });
    set_form((before) => ({ ...before, household: "", why: "" }));
    await again();
  };
  return (
    <section aria-labelledby="new-part" class="no-print">
      <h2 id="new-part">{tell("bench.a_new_part_in_use")}</h2>
      <DoneLine act={act} />
      <Refused said={act.said} />
      <details>
        <summary>{tell("bench.record_one")}</summary>
        <form onSubmit={(event) => void record(event)} noValidate>
          <Input name="household" legend={tell("bench.home")} value={form.household} error={missing["household"] ?? wrong("/household")} onChange={set("household")} />
          <Input name="part" legend={tell("bench.part")} value={form.part} max_length={40} error={wrong("/part")} onChange={set("part")} />
          <Choices name="side" legend={tell("bench.side")} value={form.side} choices={sides} inline error={wrong("/side")} onChange={set("side")} />
          <Input name="part-at" legend={tell("bench.when_by_your_clock")} type="datetime-local" value={form.at} error={wrong("/at")} onChange={set("at")} />
          <Choices name="why" legend={tell("bench.why_a_new_one")} value={form.why} choices={whys} error={missing["why"] ?? wrong("/why")} onChange={set("why")} />
          <button type="submit" disabled={act.busy}>
            {tell("bench.record_it")}
          </button>
        </form>
      </details>
    </section>
  );
}
