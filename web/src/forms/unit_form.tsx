// SPDX-License-Identifier: MIT
// "The unit changes": a spare put into service, or a unit that is new here.
import { useEffect, useState } from "preact/hooks";
import { get } from "../api/client";
import { Choices, Input, Select } from "../parts/fields";
import { field } from "./context";
import { FormFrame } from "./frame";
import { another, unit_fields, unit_model, units_of } from "./unit_model";
import { unit_in_use } from "./reading_model";
import { useForm, type Form, type FormProps } from "./use_form";
import { When } from "./when";

const uses = [
  { value: "no", words: "In use" },
  { value: "yes", words: "Kept as a spare" },
];

function NewHere(form: Form) {
  const [types, set_types] = useState<string[]>([]);
  useEffect(() => {
    let here = true;
    void get<{ profiles: { id: string }[] }>("/profiles/stimulators").then((answer) => {
      if (here && "got" in answer) set_types(answer.got.profiles.map((profile) => profile.id));
    });
    return () => {
      here = false;
    };
  }, []);
  return (
    <>
      <Input {...field(form, "serial")} legend="Serial number" max_length={60} />
      <Select {...field(form, "stimulator")} legend="Type" choices={types.map((id) => ({ value: id, words: id }))} />
      <Choices {...field(form, "spare", "no")} legend="It is then" inline choices={uses} />
    </>
  );
}

export function UnitForm(props: FormProps) {
  const form = useForm({ ...props, name: "unit", model_of: unit_model, fields: unit_fields });
  const { draft, change, context } = form;
  const used = unit_in_use(context.household);
  const known = units_of(context).map(({ serial, spare }) => ({ value: serial, words: `Unit ${serial}`, hint: spare ? "The spare" : undefined }));
  const choose = (unit: string): void => change({ unit, ...(unit !== another && { spare: "no" }) });
  return (
    <FormFrame title="The unit changes" form={form} back={props.done}>
      <p class="told">{used ? `In use as recorded: unit ${used.serial}.` : "Which unit is in use is not recorded."}</p>
      <Choices {...field(form, "unit")} legend="Which unit comes into use" choices={[...known, { value: another, words: "Another one" }]} onChange={choose} />
      {draft.unit === another && <NewHere {...form} />}
      <When form={form} legend="From when" />
    </FormFrame>
  );
}
