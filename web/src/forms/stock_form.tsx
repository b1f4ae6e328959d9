// SPDX-License-Identifier: MIT
// "Count stock": what, of which lot, where, how many.
import type { Delivery } from "../api/agency";
import { Choices, Input } from "../parts/fields";
import { open_instead } from "../state/screen";
import { date_words } from "../words/moments";
import { item_name, lot_words, place_name } from "../words/names";
import { field } from "./context";
import { FormFrame } from "./frame";
import { asks_no_change, happened, items_of, lots_of, other, places_of, planned_first, stock_fields, stock_model } from "./stock_model";
import { useForm, type Form, type FormProps } from "./use_form";
import { tell } from "../words/catalogue/record";

function Happened({ form }: { form: Form }) {
  return (
    <Choices
      {...field(form, "happened", "counted")} legend={tell("stock_form.they_were")} inline
      choices={Object.entries(happened).map(([value, words]) => ({ value, words }))}
    />
  );
}

/// The button that was pressed goes: the focus is taken on to what is asked next.
function another_way(form: Form): void {
  form.change({ another_way: "yes" });
  requestAnimationFrame(() => document.querySelector<HTMLElement>("#field-item input")?.focus());
}

/// What a planned delivery brought is stock by its own answer: that comes first, so that nothing is counted twice.
function PlannedFirst({ form, open }: { form: Form; open: Delivery[] }) {
  return (
    <div class="ask">
      <h2 tabIndex={-1}>{tell("stock_form.a_delivery_is_planned")}</h2>
      <p>{tell("stock_form.then_answer_it")}</p>
      <div class="answers">
        {open.map(({ round, date }) => (
          <button type="button" key={round} onClick={() => open_instead(`delivery?${new URLSearchParams({ round })}`)}>
            {tell("stock_form.it_is_the_delivery", { day: date_words(date) })}
          </button>
        ))}
        <button type="button" onClick={() => another_way(form)}>
          {tell("stock_form.it_is_none_of_these")}
        </button>
      </div>
    </div>
  );
}

export function StockForm(props: FormProps) {
  const form = useForm({ ...props, name: "stock", model_of: stock_model, fields: stock_fields });
  const { draft, context } = form;
  const open = planned_first(draft, context);
  const known = [...new Set(lots_of(context, draft.item ?? "").map((lot) => lot.lot ?? "").filter(Boolean))];
  const lots = [
    ...known.map((lot) => ({ value: lot, words: item_name(lot_words(lot)) })),
    { value: other, words: tell("stock_form.another_lot_number") },
    { value: "", words: tell("stock_form.no_lot_number") },
  ];
  const places = [...places_of(context).map((place) => ({ value: place, words: item_name(place_name(place) ?? place) })), { value: other, words: tell("stock_form.another_place") }];
  if (open.length) {
    return (
      <FormFrame title={tell("stock_form.count_stock")} form={form} back={props.done}>
        <Happened form={form} />
        <PlannedFirst form={form} open={open} />
      </FormFrame>
    );
  }
  return (
    <FormFrame title={tell("stock_form.count_stock")} form={form} back={props.done}>
      <Happened form={form} />
      <Choices {...field(form, "item")} legend={tell("stock_form.what")} inline choices={items_of(context).map((item) => ({ value: item, words: item_name(item) }))} />
      {asks_no_change(draft) && <p class="field small">{tell("stock_form.changes_are_counted")}</p>}
      {draft.item && (
        <Choices {...field(form, "lot")} legend={tell("stock_form.which_lot")} choices={lots} />
      )}
      {draft.lot === other && (
        <>
          <Input {...field(form, "other_lot")} legend={tell("stock_form.lot_number_on_the_pack")} max_length={40} />
          <Input {...field(form, "expires")} legend={tell("stock_form.expires_year_month_if_it_says")} max_length={7} />
        </>
      )}
      <Choices {...field(form, "place")} legend={tell("stock_form.where")} inline choices={places} />
      {draft.place === other && (
        <Input {...field(form, "other_place")} legend={tell("stock_form.name_of_the_place")} max_length={40} />
      )}
      <Input {...field(form, "quantity")} legend={tell("stock_form.how_many_single_pieces")} keys="numeric" max_length={6} />
    </FormFrame>
  );
}
