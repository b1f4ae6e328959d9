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
import { tell } from "../words/catalogue/bench";

const empty = { id: "", designation: "LR6", nominal_V: "1.5", title: "", publisher: "", year: "", basis: "data sheet", table: "" };
type Form = typeof empty;

const bases = [{ value: "data sheet", words: tell("bench.data_sheet") }, { value: "measured", words: tell("bench.measured") }, { value: "chart reading", words: tell("bench.chart_reading") }];

function body_of(form: Form): Record<string, unknown> {
  const publisher = form.publisher.trim();
  const source = { title: form.title.trim(), ...(publisher && { publisher }), year: number_of(form.year), basis: form.basis };
  return { kind: "cell", id: form.id.trim(), designation: form.designation.trim(), nominal_V: number_of(form.nominal_V), source, table: form.table };
}

function Pasting({ table, set, error }: { table: string; set: (table: string) => void; error: string | undefined }) {
  return (
    <div class={error ? "field table-field wrong" : "field table-field"}>
      <label for="input-table">{tell("bench.the_table_as_it_was_copied")}</label>
      <p class="small" id="table-help">
        {tell("bench.the_first_line_names_the_columns")}
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
    <Page title={tell("bench.a_cell_from_published_figures")} above={{ words: tell("bench.profiles"), href: to("bench/profiles") }}>
      <form onSubmit={read} noValidate>
        <div class="two">
          <div>
            <Input name="id" legend={tell("bench.its_name_in_the_records")} value={form.id} max_length={60} error={wrong("/id")} onChange={text("id")} />
            <div class="pair">
              <Input name="designation" legend={tell("bench.designation")} value={form.designation} error={wrong("/designation")} onChange={text("designation")} />
              <Input name="nominal" legend={tell("bench.nominal_voltage")} keys="decimal" after="V" value={form.nominal_V} error={wrong("/nominal_V")} onChange={text("nominal_V")} />
            </div>
            <Choices name="basis" legend={tell("bench.how_the_figures_were_come_by")} value={form.basis} choices={bases} error={wrong("/source/basis")} onChange={text("basis")} />
          </div>
          <div>
            <Input name="title" legend={tell("bench.title_of_the_source")} value={form.title} max_length={200} error={wrong("/source/title")} onChange={text("title")} />
            <div class="pair">
              <Input name="publisher" legend={tell("bench.publisher")} value={form.publisher} max_length={100} error={wrong("/source/publisher")} onChange={text("publisher")} />
              <Input name="year" legend={tell("bench.year")} keys="numeric" value={form.year} error={wrong("/source/year")} onChange={text("year")} />
            </div>
          </div>
        </div>
        <Pasting table={form.table} set={text("table")} error={in_table ? tell("bench.see_below_what_by_line_and") : undefined} />
        <button type="submit" disabled={proposing.busy}>
          {tell("bench.read_it")}
        </button>
      </form>
      <ReadBackOf proposing={proposing} table={form.table} />
    </Page>
  );
}
