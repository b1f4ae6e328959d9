// SPDX-License-Identifier: MIT
// "Going away": from and to; the answer is a packing list on the first screen.
import { Input } from "../parts/fields";
import { away_fields, away_model } from "./away_model";
import { FormFrame } from "./frame";
import { useForm, type FormSetup } from "./use_form";

export function AwayForm(props: Omit<FormSetup, "name" | "model_of" | "fields">) {
  const form = useForm({ ...props, name: "away", model_of: away_model, fields: away_fields });
  const { draft, change, errors } = form;
  return (
    <FormFrame title="Going away" form={form} back={props.done} send_words="Record, and say what to pack">
      <Input name="from" legend="Leaving on" type="date" value={draft.from ?? ""} error={errors.from} onChange={(from) => change({ from })} />
      <Input name="to" legend="Back on" type="date" value={draft.to ?? ""} error={errors.to} onChange={(to) => change({ to })} />
    </FormFrame>
  );
}
