// SPDX-License-Identifier: MIT
// "Count stock": what, of which lot, where, how many.
import { Choices, Input } from "../parts/fields";
import { item_name, lot_words } from "../words/names";
import { field } from "./context";
import { FormFrame } from "./frame";
import { happened, items_of, lots_of, other, places_of, stock_fields, stock_model } from "./stock_model";
import { useForm, type FormProps } from "./use_form";

export function StockForm(props: FormProps) {
  const form = useForm({ ...props, name: "stock", model_of: stock_model, fields: stock_fields });
  const { draft, context } = form;
  const known = [...new Set(lots_of(context, draft.item ?? "").map((lot) => lot.lot ?? "").filter(Boolean))];
  const lots = [
    ...known.map((lot) => ({ value: lot, words: item_name(lot_words(lot)) })),
    { value: other, words: "Another lot number" },
    { value: "", words: "No lot number" },
  ];
  const places = [...places_of(context).map((place) => ({ value: place, words: item_name(place) })), { value: other, words: "Another place" }];
  return (
    <FormFrame title="Count stock" form={form} back={props.done}>
      <Choices
        {...field(form, "happened", "counted")} legend="They were" inline
        choices={Object.entries(happened).map(([value, words]) => ({ value, words }))}
      />
      <Choices {...field(form, "item")} legend="What" inline choices={items_of(context).map((item) => ({ value: item, words: item_name(item) }))} />
      {draft.item && (
        <Choices {...field(form, "lot")} legend="Which lot" choices={lots} />
      )}
      {draft.lot === other && (
        <>
          <Input {...field(form, "other_lot")} legend="Lot number on the pack" max_length={40} />
          <Input {...field(form, "expires")} legend="Expires (year-month), if it says so" max_length={7} />
        </>
      )}
      <Choices {...field(form, "place")} legend="Where" inline choices={places} />
      {draft.place === other && (
        <Input {...field(form, "other_place")} legend="Name of the place" max_length={40} />
      )}
      <Input {...field(form, "quantity")} legend="How many single pieces" keys="numeric" max_length={6} />
    </FormFrame>
  );
}
