// SPDX-License-Identifier: MIT
// "Tell the agency".
import { Choices, Input } from "../parts/fields";
import { tell } from "../words/catalogue/agency";
import { field } from "./context";
import { FormFrame } from "./frame";
import { abouts, message_fields, message_model } from "./message_model";
import { useForm, type FormProps } from "./use_form";

export function MessageForm(props: FormProps) {
  const form = useForm({ ...props, name: "message", model_of: message_model, fields: message_fields });
  return (
    <FormFrame title={tell("message.title")} form={form} back={props.done} send_words={tell("message.send")}>
      <p class="told strong">{tell("message.no_call_for_help")}</p>
      <Choices {...field(form, "about")} legend={tell("message.about")} choices={Object.entries(abouts).map(([value, words]) => ({ value, words }))} />
      <Input {...field(form, "note")} legend={tell("message.note")} max_length={400} />
      <p class="told">{tell("message.afterwards")}</p>
    </FormFrame>
  );
}
