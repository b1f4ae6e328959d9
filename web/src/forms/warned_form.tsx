// SPDX-License-Identifier: MIT
// "The unit warned": which side, and when. Nothing else stands between a warning and its record.
import { handling } from "../words/cautions";
import { FormFrame } from "./frame";
import { reading_fields, warned_model } from "./reading_model";
import { SideField } from "./side";
import { useForm, type FormProps } from "./use_form";
import { When } from "./when";
import { tell } from "../words/catalogue/record";

export function WarnedForm(props: FormProps) {
  const form = useForm({ ...props, name: "warned", model_of: warned_model, fields: reading_fields });
  return (
    <FormFrame title={tell("warned_form.the_unit_warned")} form={form} back={props.done} send_words={tell("warned_form.record_the_warning")}>
      <div class="told">
        <p class="strong">{tell("warned_form.act_on_the_warning_first_change")}</p>
        <p>{handling}</p>
      </div>
      <SideField form={form} />
      <When form={form} />
    </FormFrame>
  );
}
