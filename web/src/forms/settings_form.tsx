// SPDX-License-Identifier: MIT
// Settings of one side, from now or from a coming day on, with spans that may grow week by week: what is recorded stands
// beside what is typed in, and what lies beyond the unit's profile is asked about twice.
import { useProfile } from "../state/unit_profile";
import { tell } from "../words/catalogue/plan";
import { FormFrame } from "./frame";
import { FillIn, SettingsFields } from "./settings_fields";
import { settings_form_fields, settings_model } from "./settings_model";
import { beyond_range, old_beside_new } from "./settings_range";
import { SideField, sides_of } from "./side";
import { useForm, type Form, type FormProps } from "./use_form";
import { When } from "./when";

function Beside({ draft, context }: Form) {
  const [side] = sides_of(draft);
  const lines = draft.side === "both" ? [] : old_beside_new(side && context.household?.settings?.[side], draft);
  if (!lines.length) return null;
  return (
    <table class="numbers told">
      <caption>{tell("settings_form.old_beside_new")}</caption>
      <thead>
        <tr>
          <td />
          <th scope="col">{tell("settings_form.as_recorded")}</th>
          <th scope="col">{tell("settings_form.new")}</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.what}>
            <th scope="row">{line.what}</th>
            <td>{line.old}</td>
            <td>{line.new}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

export function SettingsForm(props: FormProps) {
  const range = useProfile(props.desk.value.household)?.settings_range ?? null;
  const form = useForm({ ...props, name: "settings", model_of: (draft, context, now) => ({ ...settings_model(draft, context, now), beyond: beyond_range(range, draft) }), fields: settings_form_fields });
  const { draft, change, context } = form;
  return (
    <FormFrame title={draft.grows === "yes" ? tell("settings_form.pacing_that_grows") : tell("settings_form.new_settings")} form={form} back={props.done}>
      <p class="told">{tell("settings_form.settings_as_the_clinician_gave_them")}</p>
      <SideField form={form} />
      <When form={form} legend={tell("settings_form.they_count_from")} />
      <FillIn side={sides_of(draft)[0]} context={context} change={change} />
      <SettingsFields form={form} />
      <Beside {...form} />
    </FormFrame>
  );
}
