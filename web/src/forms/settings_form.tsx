// SPDX-License-Identifier: MIT
// Settings of one side, from now or from a coming day on, with spans that may grow week by week.
import { FormFrame } from "./frame";
import { FillIn, SettingsFields } from "./settings_fields";
import { settings_form_fields, settings_model } from "./settings_model";
import { SideField, sides_of } from "./side";
import { useForm, type FormProps } from "./use_form";
import { When } from "./when";

export function SettingsForm(props: FormProps) {
  const form = useForm({ ...props, name: "settings", model_of: settings_model, fields: settings_form_fields });
  const { draft, change, context } = form;
  return (
    <FormFrame title={draft.grows === "yes" ? "Pacing that grows" : "New settings"} form={form} back={props.done}>
      <p class="told">Settings as the clinician gave them.</p>
      <SideField form={form} />
      <When form={form} legend="They count from" />
      <FillIn side={sides_of(draft)[0]} context={context} change={change} />
      <SettingsFields form={form} />
    </FormFrame>
  );
}
