// SPDX-License-Identifier: MIT
// How the household wishes to be reminded. Quiet hours never silence a change that has to come before tonight.
import { useState } from "preact/hooks";
import { keep_reminders, type ReminderSettings } from "../api/reminders";
import { Refused } from "../access/refused";
import { useAsk } from "../access/use_ask";
import { field } from "../forms/context";
import { Choices, Input, Ticks } from "../parts/fields";
import { new_key } from "../state/intention";
import { tell } from "../words/catalogue/remind";
import { draft_of, settings_of } from "./settings_model";

const abouts = [
  { value: "changes", words: tell("remind.of_changes") },
  { value: "orders", words: tell("remind.of_orders") },
];
const times = [
  { value: "before", words: tell("remind.four_hours_before"), hint: tell("remind.before_the_changing_time") },
  { value: "at", words: tell("remind.at_a_time") },
];
const quiets = [
  { value: "yes", words: tell("remind.quiet_hours") },
  { value: "no", words: tell("remind.no_quiet_hours") },
];
const wordings = [
  { value: "neutral", words: tell("remind.neutral"), hint: tell("remind.neutral_hint") },
  { value: "plain", words: tell("remind.plain"), hint: tell("remind.plain_hint") },
];
const seconds = [
  { value: "30", words: tell("remind.after_minutes", { minutes: 30 }) },
  { value: "60", words: tell("remind.after_minutes", { minutes: 60 }) },
  { value: "120", words: tell("remind.after_minutes", { minutes: 120 }) },
  { value: "never", words: tell("remind.never") },
];

export function SettingsPart({ household, settings, kept }: { household: string; settings: ReminderSettings; kept: () => void }) {
  const [draft, set_draft] = useState(() => draft_of(settings));
  const [tried, set_tried] = useState(false);
  const [stored, set_stored] = useState(false);
  const { busy, said, ask } = useAsk();
  const read = settings_of(draft);
  const form = {
    draft, errors: tried ? read.errors : {},
    change: (part: Record<string, string>): void => {
      set_stored(false);
      set_draft({ ...draft, ...part });
    },
  };
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    set_tried(true);
    if (Object.keys(read.errors).length || !(await ask(() => keep_reminders(household, read.settings, new_key())))) return;
    set_stored(true);
    kept();
  };
  return (
    <form onSubmit={(event) => void send(event)} noValidate>
      <Ticks name="what" legend={tell("remind.of_what")} chosen={(draft.what ?? "").split(" ")} choices={abouts} onChange={(chosen) => form.change({ what: chosen.join(" ") })} />
      <Choices {...field(form, "when")} legend={tell("remind.when")} choices={times} />
      {draft.when === "at" && <Input {...field(form, "at")} legend={tell("remind.at_by_the_clock_at_home")} type="time" />}
      <Choices {...field(form, "quiet")} legend={tell("remind.quiet")} inline choices={quiets} />
      {draft.quiet === "yes" && (
        <>
          <div class="pair">
            <Input {...field(form, "quiet_from")} legend={tell("remind.from")} type="time" />
            <Input {...field(form, "quiet_to")} legend={tell("remind.to")} type="time" />
          </div>
          <p class="told">{tell("remind.never_silenced")}</p>
        </>
      )}
      <Choices {...field(form, "words")} legend={tell("remind.words")} choices={wordings} />
      <Choices {...field(form, "second")} legend={tell("remind.second")} choices={seconds} inline />
      <Refused said={said} />
      <div role="status">{stored && <p class="told strong">{tell("remind.kept")}</p>}</div>
      <button class="main" type="submit" disabled={busy}>
        {tell("remind.keep")}
      </button>
    </form>
  );
}
