// SPDX-License-Identifier: MIT
// "Count stock": what, of which lot, where, how many.
import { Choices, Input } from "../parts/fields";
import { item_name, lot_words } from "../words/names";
import { FormFrame } from "./frame";
import { happened, items_of, lots_of, other, places_of, stock_fields, stock_model } from "./stock_model";
import { useForm, type FormSetup } from "./use_form";

export function StockForm(props: Omit<FormSetup, "name" | "model_of" | "fields">) {
  const form = useForm({ ...props, name: "stock", model_of: stock_model, fields: stock_fields });
  const { draft, change, context, errors } = form;
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
        name="happened" legend="They were" inline value={draft.happened ?? "counted"} onChange={(value) => change({ happened: value })}
        choices={Object.entries(happened).map(([value, words]) => ({ value, words }))}
      />
      <Choices
        name="item" legend="What" inline value={draft.item ?? ""} error={errors.item} onChange={(item) => change({ item })}
        choices={items_of(context).map((item) => ({ value: item, words: item_name(item) }))}
      />
      {draft.item && (
        <Choices name="lot" legend="Which lot" value={draft.lot ?? ""} choices={lots} error={errors.lot} onChange={(lot) => change({ lot })} />
      )}
      {draft.lot === other && (
        <>
          <Input name="other_lot" legend="Lot number on the pack" value={draft.other_lot ?? ""} error={errors.other_lot} max_length={40} onChange={(other_lot) => change({ other_lot })} />
          <Input name="expires" legend="Expires (year-month), if it says so" value={draft.expires ?? ""} error={errors.expires} max_length={7} onChange={(expires) => change({ expires })} />
        </>
      )}
      <Choices name="place" legend="Where" inline value={draft.place ?? ""} choices={places} error={errors.place} onChange={(place) => change({ place })} />
      {draft.place === other && (
        <Input name="other_place" legend="Name of the place" value={draft.other_place ?? ""} error={errors.other_place} max_length={40} onChange={(other_place) => change({ other_place })} />
      )}
      <Input
        name="quantity" legend="How many single pieces" keys="numeric" value={draft.quantity ?? ""} error={errors.quantity} max_length={6}
        onChange={(quantity) => change({ quantity })}
      />
    </FormFrame>
  );
}
