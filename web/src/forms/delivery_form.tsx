// SPDX-License-Identifier: MIT
// What came of a planned delivery.
import { Choices, Input } from "../parts/fields";
import { Screen } from "../parts/screen";
import { delivery_on, is_open } from "../state/correspondence";
import { tell } from "../words/catalogue/agency";
import { lot_lines, lots_words } from "../words/agency";
import { date_words } from "../words/moments";
import { item_name, lot_words } from "../words/names";
import { field } from "./context";
import { count_field, counted, delivery_fields, delivery_model } from "./delivery_model";
import { FormFrame } from "./frame";
import { useForm, type FormProps } from "./use_form";

const answers = [
  { value: "all", words: tell("delivery.all") },
  { value: "part", words: tell("delivery.part") },
  { value: "none", words: tell("delivery.none") },
];

export function DeliveryForm(props: FormProps) {
  const form = useForm({ ...props, name: "delivery", model_of: delivery_model, fields: delivery_fields });
  const { draft, context } = form;
  const delivery = delivery_on(context.told, draft.round);
  if (!delivery || !(is_open(delivery) || form.sending)) {
    return (
      <Screen title={delivery ? tell("delivery.title", { day: date_words(delivery.date) }) : tell("delivery.one")} back={props.done}>
        <p class="told">{tell(context.told ? "delivery.not_open" : "delivery.not_known")}</p>
      </Screen>
    );
  }
  const lines = lot_lines(delivery);
  return (
    <FormFrame title={tell("delivery.title", { day: date_words(delivery.date) })} form={form} back={props.done}>
      <p class="told">{tell("delivery.planned", { what: lots_words(lines) })}</p>
      <Choices {...field(form, "answer")} legend={tell("delivery.what_came")} choices={answers} />
      {draft.answer === "part" && (
        <>
          {lines.map((line) => (
            <Input
              key={count_field(line)} {...field(form, count_field(line))} value={counted(line, draft)} keys="numeric" max_length={5}
              legend={tell(line.lot ? "delivery.how_many" : "delivery.how_many_no_lot", { item: item_name(line.item), lot: lot_words(line.lot), planned: line.pieces })}
            />
          ))}
          <p class="told">{tell("delivery.another_lot")}</p>
        </>
      )}
      {(draft.answer === "none" || draft.answer === "part") && <p class="told">{tell("delivery.then_call")}</p>}
    </FormFrame>
  );
}
