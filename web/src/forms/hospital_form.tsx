// SPDX-License-Identifier: MIT
// "In hospital".
import { FormFrame } from "./frame";
import { hospital_fields, hospital_model } from "./hospital_model";
import { useForm, type FormProps } from "./use_form";
import { When } from "./when";
import { tell } from "../words/catalogue/plan";

export function HospitalForm(props: FormProps) {
  const form = useForm({ ...props, name: "hospital", model_of: hospital_model, fields: hospital_fields });
  return (
    <FormFrame title={tell("hospital_form.in_hospital")} form={form} back={props.done}>
      <p class="told">{tell("hospital_form.until_back_home_this_page_forecasts")}</p>
      <p class="told">
        <a class="way" href="#handover">{tell("hospital_form.handover")}</a>
      </p>
      <When form={form} legend={tell("hospital_form.from_when")} />
    </FormFrame>
  );
}
