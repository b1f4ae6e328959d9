// SPDX-License-Identifier: MIT
// Looks at one cause alone: the settings read off the unit, the paced hours noted for some days. They weigh in the findings.
import { useState } from "preact/hooks";
import { Refused } from "../access/refused";
import { household_path } from "../api/client";
import { Choices, Input } from "../parts/fields";
import { useAct } from "../staff/act";
import { DoneLine } from "../staff/done_line";
import { moment_of, read_wall, rfc3339, wall_text, wall_time } from "../time/zone";
import { moment_words } from "../words/moments";
import type { Recorded, SideHistory } from "./api";
import { error_at, number_of } from "./form_parts";
import { undo_of_entry } from "./undo";
import { tell } from "../words/catalogue/bench";

interface Props {
  history: SideHistory;
  again: () => Promise<void>;
  /// Which form a finding has led here for.
  asked: string | undefined;
}

function CheckForm({ history, again, asked }: Props) {
  const act = useAct();
  const { household, side, zone } = history;
  const [what, set_what] = useState(asked === "hours_noted" ? "hours_noted" : "settings_read");
  const [at, set_at] = useState(wall_text(wall_time(new Date(), zone)));
  const [form, set_form] = useState({ rate: "", fraction: "", amplitude: "", hours: "" });
  const set = (name: keyof typeof form) => (value: string): void => set_form((before) => ({ ...before, [name]: value }));
  const wrong = error_at(act.errors);
  const record = async (event: Event): Promise<void> => {
    event.preventDefault();
    const wall = read_wall(at);
    const when = wall ? rfc3339(moment_of(wall, zone), zone) : at;
    const numbers = what === "hours_noted"
      ? { hours_per_day: number_of(form.hours) }
      : { rate_per_min: number_of(form.rate), inspiratory_fraction: number_of(form.fraction), amplitude: number_of(form.amplitude) };
    const kept = await act.send<Recorded>(`${household_path(household)}/checks`, { side, at: when, what, ...numbers });
    if (!kept) return;
    set_form({ rate: "", fraction: "", amplitude: "", hours: "" });
    act.tell({ words: tell("bench.recorded_the_findings_are_being_worked"), undo: undo_of_entry(household, kept, act, again) });
    await again();
  };
  const kinds = [
    { value: "settings_read", words: tell("bench.settings_read_off_the_unit") },
    { value: "hours_noted", words: tell("bench.hours_paced_a_day_noted_for") },
  ];
  return (
    <form onSubmit={(event) => void record(event)} noValidate class="check-form" id="check">
      <DoneLine act={act} />
      <Refused said={act.said} />
      <Choices name="what" legend={tell("bench.what_was_looked_at_on_the", { side })} value={what} choices={kinds} inline onChange={set_what} />
      <Input name="at" legend={tell("bench.when_by_the_clock_at_the")} type="datetime-local" value={at} error={wrong("/at")} onChange={set_at} />
      {what === "hours_noted" ? (
        <Input name="hours" legend={tell("bench.hours_paced_a_day_on_average")} keys="decimal" after="h" value={form.hours} error={wrong("/hours_per_day")} onChange={set("hours")} />
      ) : (
        <div class="pair">
          <Input name="rate" legend={tell("bench.rate")} keys="decimal" after={tell("bench.a_minute")} value={form.rate} error={wrong("/rate_per_min")} onChange={set("rate")} />
          <Input name="fraction" legend={tell("bench.inspiratory_fraction")} keys="decimal" value={form.fraction} error={wrong("/inspiratory_fraction")} onChange={set("fraction")} />
          <Input name="amplitude" legend={tell("bench.amplitude")} keys="decimal" value={form.amplitude} error={wrong("/amplitude")} onChange={set("amplitude")} />
        </div>
      )}
      <button type="submit" disabled={act.busy}>
        {tell("bench.record_this_look")}
      </button>
    </form>
  );
}

export function Checks(props: Props) {
  const { checks, zone } = props.history;
  return (
    <section aria-labelledby="checks" class="no-print">
      <h2 id="checks">{tell("bench.looks_at_one_cause_alone")}</h2>
      {checks.length ? (
        <ul class="text">{checks.map((one) => <li key={one.entry}>{`${moment_words(new Date(one.at), new Date(), zone)}: ${one.text}`}</li>)}</ul>
      ) : (
        <p class="text">{tell("bench.none_was_made_here_yet_settings")}</p>
      )}
      <details open={Boolean(props.asked)}>
        <summary>{tell("bench.record_one")}</summary>
        <CheckForm {...props} />
      </details>
    </section>
  );
}
