// SPDX-License-Identifier: MIT
// "It is over".
import { end_fields, end_model, end_words, plan_of } from "./end_model";
import { FormFrame } from "./frame";
import { plan_words } from "../words/names";
import { useForm, type FormProps } from "./use_form";
import { When } from "./when";
import { tell } from "../words/catalogue/plan";

export function EndForm(props: FormProps) {
  const form = useForm({ ...props, name: "end", model_of: end_model, fields: end_fields });
  const { draft, context } = form;
  const plan = plan_of(draft, context);
  return (
    <FormFrame title={end_words(plan)} form={form} back={props.done}>
      {plan && <p class="told strong">{plan_words(plan)}</p>}
      <When form={form} legend={tell("end_form.since_when")} />
    </FormFrame>
  );
}
