// SPDX-License-Identifier: MIT
// A cell's profile from a pasted table of published figures.
import { Fault } from "../parts/fault";
import { Choices, Input } from "../parts/fields";
import { Page } from "../staff/frame";
import { to } from "../staff/place";
import { error_at, number_of } from "./form_parts";
import { useKeptForm } from "./kept_form";
import { useProposing } from "./proposing";
import { ReadBackOf } from "./read_back";

const empty = { id: "", designation: "LR6", nominal_V: "1.5", title: "", publisher: "", year: "", basis: "data sheet", table: "" };
type Form = typeof empty;

const bases = ["data sheet", "measured", "chart reading"].map((value) => ({ value, words: value.charAt(0).toUpperCase() + value.slice(1) }));

function body_of(form: Form): Record<string, unknown> {
  const source = { title: form.title.trim(), publisher: form.publisher.trim(), year: number_of(form.year), basis: form.basis };
  return { kind: "cell", id: form.id.trim(), designation: form.designation.trim(), nominal_V: number_of(form.nominal_V), source, table: form.table };
}

function Pasting({ table, set, error }: { table: string; set: (table: string) => void; error: string | undefined }) {
  return (
    <div class={error ? "field table-field wrong" : "field table-field"}>
      <label for="input-table">The table, as it was copied</label>
      <p class="small" id="table-help">
        The first line names the columns: current_mA, resistance_ohm or power_mW; cutoff_V; hours or capacity_mAh; if given also start_V, on_s, period_s, temperature_C. Columns
        are parted by tabs, semicolons or commas.
      </p>
      <textarea
        id="input-table" class="code-like" rows={10} spellcheck={false} value={table} wrap="off" aria-describedby={error ? "table-help table-error" : "table-help"} aria-invalid={Boolean(error)}
        placeholder={"current_mA\tcutoff_V\thours\n100\t0.9\t23.2"} onInput={(event) => set(event.currentTarget.value)}
      />
      {error && <Fault error={error} id="table-error" />}
    </div>
  );
}

export function CellForm(_: { given: Record<string, string> }) {
  const { form, set, forget } = useKeptForm("cell", empty);
  const proposing = useProposing(body_of(form), forget);
  const problems = proposing.changed ? [] : (proposing.back?.problems ?? []);
  const wrong = error_at(problems);
  const text = (name: keyof Form) => (value: string): void => set({ [name]: value });
  const read = (event: Event): void => {
    event.preventDefault();
    void proposing.read();
  };
  const in_table = problems.filter((one) => one.line !== null || one.place.startsWith("/table")).length;
  return (
    <Page title="A cell from published figures" above={{ words: "Profiles", href: to("bench/profiles") }}>
      <form onSubmit={read} noValidate>
        <div class="two">
          <div>
            <Input name="id" legend="Its name in the records" value={form.id} max_length={60} error={wrong("/id")} onChange={text("id")} />
            <div class="pair">
              <Input name="designation" legend="Designation" value={form.designation} error={wrong("/designation")} onChange={text("designation")} />
              <Input name="nominal" legend="Nominal voltage" keys="decimal" after="V" value={form.nominal_V} error={wrong("/nominal_V")} onChange={text("nominal_V")} />
            </div>
            <Choices name="basis" legend="How the figures were come by" value={form.basis} choices={bases} error={wrong("/source/basis")} onChange={text("basis")} />
          </div>
          <div>
            <Input name="title" legend="Title of the source" value={form.title} max_length={200} error={wrong("/source/title")} onChange={text("title")} />
            <div class="pair">
              <Input name="publisher" legend="Publisher" value={form.publisher} max_length={100} error={wrong("/source/publisher")} onChange={text("publisher")} />
              <Input name="year" legend="Year" keys="numeric" value={form.year} error={wrong("/source/year")} onChange={text("year")} />
            </div>
          </div>
        </div>
        <Pasting table={form.table} set={text("table")} error={in_table ? "See below what, by line and column." : undefined} />
        <button type="submit" disabled={proposing.busy}>
          Read it
        </button>
      </form>
      <ReadBackOf proposing={proposing} table={form.table} />
    </Page>
  );
}
