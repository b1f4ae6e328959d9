// SPDX-License-Identifier: MIT
// What is in the house: counted, arrived, used beside changes of cells, or thrown away.
import type { Delivery } from "../api/agency";
import type { Lot } from "../api/types";
import { open_deliveries } from "../state/correspondence";
import type { Draft } from "../state/draft";
import { rfc3339 } from "../time/zone";
import { item_name, lot_words, pieces } from "../words/names";
import type { Context, FieldOfPlace, Model } from "./context";
import { tell } from "../words/catalogue/record";

export const stock_fields: FieldOfPlace = { "/item": "item", "/lot": "lot", "/quantity": "quantity", "/expires": "expires", "/place": "place", "/at": "quantity" };

export const happened = { counted: tell("stock_model.counted"), arrived: tell("stock_model.arrived"), used: tell("stock_model.used"), discarded: tell("stock_model.thrown_away") } as const;
const paths = { counted: "stock-counts", arrived: "deliveries", used: "uses", discarded: "discards" } as const;
export type Happened = keyof typeof happened;

export const other = "other:";
const usual_items = ["cells", "antennas", "dressings", "tape"];

export function items_of(context: Context): string[] {
  const told = [...(context.household?.items ?? []), ...(context.forecast?.stock.map((item) => item.item) ?? [])];
  return [...new Set(told.length ? told : usual_items)];
}

export function lots_of(context: Context, item: string): Lot[] {
  const lots = context.household?.lots?.filter((lot) => (lot.item ?? "cells") === item);
  return lots ?? context.forecast?.stock.find((one) => one.item === item)?.lots ?? [];
}

export function places_of(context: Context): string[] {
  const used = items_of(context).flatMap((item) => lots_of(context, item).map((lot) => lot.place ?? ""));
  return [...new Set([...(context.household?.places ?? []), ...used, "home"])].filter(Boolean);
}

/// Deliveries to answer before the same is recorded as arrived; none once it was said that it came another way.
export function planned_first({ happened: what, another_way }: Draft, { told }: Context): Delivery[] {
  return what === "arrived" && another_way !== "yes" ? open_deliveries(told) : [];
}

/// A shelf may be empty; nothing used, arrived or thrown away is no record.
function quantity_fault({ quantity = "", happened: what = "counted" }: Draft): string | null {
  if (!/^\d{1,6}$/.test(quantity.trim())) return tell("stock_model.write_a_whole_number_of_single");
  return what !== "counted" && Number(quantity) === 0 ? tell("stock_model.write_at_least_one") : null;
}

/// A change takes its cells from the stock by itself.
export const asks_no_change = ({ happened: what, item }: Draft): boolean => what === "used" && item === "cells";

export function stock_model(draft: Draft, context: Context, now: Date): Model {
  const errors: Record<string, string> = {};
  if (planned_first(draft, context).length) return { errors: { planned: "asked" }, summary: "", posts: [] };
  const item = draft.item ?? "";
  if (!item) errors.item = tell("stock_model.choose_what_was_counted");
  const lot = draft.lot === other ? (draft.other_lot ?? "").trim() : (draft.lot ?? "");
  if (draft.lot === other && !lot) errors.other_lot = tell("stock_model.write_the_lot_number_on_the");
  const place = draft.place === other ? (draft.other_place ?? "").trim() : (draft.place ?? "");
  if (!place) errors[draft.place === other ? "other_place" : "place"] = tell("stock_model.say_where_they_are_kept");
  const fault = quantity_fault(draft);
  if (fault) errors.quantity = fault;
  if (draft.expires && !/^\d{4}-(0[1-9]|1[0-2])$/.test(draft.expires)) errors.expires = tell("stock_model.write_the_year_and_the_month");
  if (Object.keys(errors).length) return { errors, summary: "", posts: [] };

  const what = (draft.happened ?? "counted") as Happened;
  const quantity = Number(draft.quantity);
  const known = lots_of(context, item).find((one) => one.lot === lot);
  const expires = draft.expires || known?.expires;
  const words = `${pieces(quantity, item)}, ${lot_words(lot)}, ${place}: ${happened[what].toLowerCase()}`;
  // A count of what has no number leaves what has one as it was booked.
  const numbered = what === "counted" && !lot ? lots_of(context, item).filter((one) => one.lot && one.quantity > 0 && (one.place ?? "home") === place) : [];
  const booked = numbered.reduce((sum, one) => sum + one.quantity, 0);
  const beside = booked > 0 ? tell("stock_model.beside_numbered", { booked: pieces(booked, item), all: pieces(booked + quantity, item) }) : "";
  return {
    errors,
    summary: `${item_name(words)}${expires && draft.expires ? tell("stock_model.expires", { expires }) : ""}.${beside}`,
    posts: [{
      path: paths[what], about: "stock", words: item_name(words),
      body: { at: rfc3339(now, context.zone), item, quantity, place, ...(lot && { lot }), ...(expires && { expires }) },
    }],
  };
}
