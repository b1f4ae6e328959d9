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

const whys = [
  { value: "first", words: "The first of its kind there" },
  { value: "worn_out", words: "The one before was worn out" },
  { value: "other", words: "The one before came out for another reason" },
];
const sides = [
  { value: "left", words: "Left" },
  { value: "right", words: "Right" },
  { value: "", words: "Of no side" },
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
    const lacks = { ...(!household && { household: "Say which home." }), ...(!form.why && { why: "Choose why." }) };
    set_missing(lacks);
    if (Object.keys(lacks).length) return;
    const wall = read_wall(form.at);
    const body = { part: form.part.trim(), ...(form.side && { side: form.side }), at: wall ? rfc3339(moment_of(wall, zone), zone) : form.at, why: form.why };
    const kept = await act.send<Recorded>(`${household_path(household)}/parts`, body);
    if (!kept) return;
    act.tell({ words: `Recorded: a new ${form.part.trim()} at ${household}.`, undo: undo_of_entry(household, kept, act, again) });
    set_form((before) => ({ ...before, household: "", why: "" }));
    await again();
  };
  return (
    <section aria-labelledby="new-part" class="no-print">
      <h2 id="new-part">A new part in use</h2>
      <DoneLine act={act} />
      <Refused said={act.said} />
      <details>
        <summary>Record one</summary>
        <form onSubmit={(event) => void record(event)} noValidate>
          <Input name="household" legend="Home" value={form.household} error={missing["household"] ?? wrong("/household")} onChange={set("household")} />
          <Input name="part" legend="Part" value={form.part} max_length={40} error={wrong("/part")} onChange={set("part")} />
          <Choices name="side" legend="Side" value={form.side} choices={sides} inline error={wrong("/side")} onChange={set("side")} />
          <Input name="part-at" legend="When, by your clock" type="datetime-local" value={form.at} error={wrong("/at")} onChange={set("at")} />
          <Choices name="why" legend="Why a new one?" value={form.why} choices={whys} error={missing["why"] ?? wrong("/why")} onChange={set("why")} />
          <button type="submit" disabled={act.busy}>
            Record it
          </button>
        </form>
      </details>
    </section>
  );
}
