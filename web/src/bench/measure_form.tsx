// SPDX-License-Identifier: MIT
// A stimulator from bench measurements: current at several amplitudes, the gauge against voltage. Of a model of unit, or
// of one serial number, whose measured values then stand before those of its model.
import { useDocument } from "../staff/documents";
import { Choices, Input, Select } from "../parts/fields";
import { Page } from "../staff/frame";
import { choose, to } from "../staff/place";
import { moment_of, read_wall, rfc3339, wall_text, wall_time } from "../time/zone";
import type { BurstRow, GaugeRow } from "./api_profiles";
import { error_at, number_of } from "./form_parts";
import { useKeptForm } from "./kept_form";
import { BurstRows, GaugeRows } from "./measure_rows";
import { useProposing } from "./proposing";
import { ReadBackOf } from "./read_back";
import { here } from "./words";
import { tell } from "../words/catalogue/bench";

type Kind = "unit" | "stimulator";

const no_burst: BurstRow = { side: "left", amplitude: "", current_mA: "" };
const no_point: GaugeRow = { set_V: "", percent: "" };
const empty = { serial: "", id: "", base: "", at: "", title: "", year: "", cutoff_V: "", warning: "", bursts: [no_burst, { ...no_burst, side: "right" as const }], gauge: [no_point] };
type Form = typeof empty;

const filled = (row: BurstRow | GaugeRow): boolean => Object.entries(row).some(([name, value]) => name !== "side" && value.trim() !== "");

function body_of(kind: Kind, form: Form, at: string): Record<string, unknown> {
  const zone = here();
  const wall = read_wall(at);
  const measured = {
    at: wall ? rfc3339(moment_of(wall, zone), zone) : at,
    bursts: form.bursts.filter(filled).map(({ side, amplitude, current_mA }) => ({ side, amplitude: number_of(amplitude), current_mA: number_of(current_mA) })),
    gauge: form.gauge.filter(filled).map(({ set_V, percent }) => ({ set_V: number_of(set_V), percent: number_of(percent) })),
    ...(form.cutoff_V.trim() && { cutoff_V: number_of(form.cutoff_V) }), ...(form.warning.trim() && { warning_percent: number_of(form.warning) }),
  };
  if (kind === "unit") return { kind, serial: form.serial.trim(), ...(form.base && { base: form.base }), ...measured };
  return { kind, id: form.id.trim(), base: form.base, source: { title: form.title.trim(), year: number_of(form.year) }, ...measured };
}

const kinds = [
  { value: "unit", words: tell("bench.one_unit_by_its_serial_number") },
  { value: "stimulator", words: tell("bench.a_model_of_unit") },
];

export function MeasureForm({ given }: { given: Record<string, string> }) {
  const kind: Kind = given["kind"] === "stimulator" ? "stimulator" : "unit";
  const { form, set, forget } = useKeptForm(`measure:${kind}:${given["serial"] ?? ""}`, { ...empty, serial: given["serial"] ?? "", at: wall_text(wall_time(new Date(), here())) });
  const models = useDocument<{ profiles: { id: string }[] }>("/profiles/stimulators");
  const proposing = useProposing(body_of(kind, form, form.at), forget);
  const wrong = error_at(proposing.changed ? [] : (proposing.back?.problems ?? []));
  const choices = (models.got?.profiles ?? []).map(({ id }) => ({ value: id, words: id }));
  const text = (name: keyof Form) => (value: string): void => set({ [name]: value });
  const read = (event: Event): void => {
    event.preventDefault();
    void proposing.read();
  };
  return (
    <Page title={kind === "unit" ? tell("bench.a_unit_from_the_bench") : tell("bench.a_stimulator_from_the_bench")} above={{ words: tell("bench.profiles"), href: to("bench/profiles") }}>
      <form onSubmit={read} noValidate>
        <Choices name="kind" legend={tell("bench.what_was_measured")} value={kind} choices={kinds} inline onChange={(value) => choose("bench/measure", { ...given, kind: value })} />
        <div class="two">
          <div>
            {kind === "unit" ? (
              <>
                <Input name="serial" legend={tell("bench.serial_number")} value={form.serial} max_length={60} error={wrong("/serial")} onChange={text("serial")} />
                <Select name="base" legend={tell("bench.its_model_where_no_home_has")} value={form.base} error={wrong("/base")} choices={choices} onChange={text("base")} />
              </>
            ) : (
              <>
                <Input name="id" legend={tell("bench.its_name_in_the_records")} value={form.id} max_length={60} error={wrong("/id")} onChange={text("id")} />
                <Select name="base" legend={tell("bench.the_model_it_is_like_in")} value={form.base} error={wrong("/base")} choices={choices} onChange={text("base")} />
                <div class="pair">
                  <Input name="title" legend={tell("bench.source_who_measured_with_what")} value={form.title} max_length={200} error={wrong("/source/title")} onChange={text("title")} />
                  <Input name="year" legend={tell("bench.year")} keys="numeric" value={form.year} error={wrong("/source/year")} onChange={text("year")} />
                </div>
              </>
            )}
            <Input name="at" legend={tell("bench.when_by_your_clock")} type="datetime-local" value={form.at} error={wrong("/at")} onChange={text("at")} />
            <div class="pair">
              <Input name="cutoff" legend={tell("bench.cut_off_if_measured")} keys="decimal" after="V" value={form.cutoff_V} error={wrong("/cutoff_V")} onChange={text("cutoff_V")} />
              <Input name="warning" legend={tell("bench.it_warned_at_if_measured")} keys="decimal" after="%" value={form.warning} error={wrong("/warning_percent")} onChange={text("warning")} />
            </div>
          </div>
          <div>
            <BurstRows rows={form.bursts} wrong={wrong} set={(bursts) => set({ bursts })} />
            <GaugeRows rows={form.gauge} wrong={wrong} set={(gauge) => set({ gauge })} />
          </div>
        </div>
        <button type="submit" disabled={proposing.busy}>
          {tell("bench.read_it")}
        </button>
      </form>
      <ReadBackOf proposing={proposing} />
    </Page>
  );
}
