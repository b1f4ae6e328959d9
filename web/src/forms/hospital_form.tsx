// SPDX-License-Identifier: MIT
// "In hospital".
import { FormFrame } from "./frame";
import { hospital_fields, hospital_model } from "./hospital_model";
import { useForm, type FormProps } from "./use_form";
import { When } from "./when";

export function HospitalForm(props: FormProps) {
  const form = useForm({ ...props, name: "hospital", model_of: hospital_model, fields: hospital_fields });
  return (
    <FormFrame title="In hospital" form={form} back={props.done}>
      <p class="told">Until back home this page forecasts nothing and asks nothing. The unit's own alarm comes first there too.</p>
      <When form={form} legend="From when" />
    </FormFrame>
  );
}
