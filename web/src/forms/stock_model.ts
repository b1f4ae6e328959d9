// SPDX-License-Identifier: MIT
// What is in the house: counted, arrived or thrown away.
import type { Lot } from "../api/types";
import type { Draft } from "../state/draft";
import { rfc3339 } from "../time/zone";
import { item_name, lot_words, pieces } from "../words/names";
import type { Context, FieldOfPlace, Model } from "./context";

export const stock_fields: FieldOfPlace = { "/item": "item", "/lot": "lot", "/quantity": "quantity", "/expires": "expires", "/place": "place", "/at": "quantity" };

export const happened = { counted: "Counted", arrived: "Arrived", discarded: "Thrown away" } as const;
const paths = { counted: "stock-counts", arrived: "deliveries", discarded: "discards" } as const;
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

export function stock_model(draft: Draft, context: Context, now: Date): Model {
  const errors: Record<string, string> = {};
  const item = draft.item ?? "";
  if (!item) errors.item = "Choose what was counted.";
  const lot = draft.lot === other ? (draft.other_lot ?? "").trim() : (draft.lot ?? "");
  if (draft.lot === other && !lot) errors.other_lot = "Write the lot number on the pack, or choose “no lot number”.";
  const place = draft.place === other ? (draft.other_place ?? "").trim() : (draft.place ?? "");
  if (!place) errors[draft.place === other ? "other_place" : "place"] = "Say where they are kept.";
  if (!/^\d{1,6}$/.test((draft.quantity ?? "").trim())) errors.quantity = "Write a whole number of single pieces, 0 or more.";
  if (draft.expires && !/^\d{4}-(0[1-9]|1[0-2])$/.test(draft.expires)) errors.expires = "Write the year and the month, as 2033-01, or leave it empty.";
  if (Object.keys(errors).length) return { errors, summary: "", posts: [] };

  const what = (draft.happened ?? "counted") as Happened;
  const quantity = Number(draft.quantity);
  const known = lots_of(context, item).find((one) => one.lot === lot);
  const expires = draft.expires || known?.expires;
  const words = `${pieces(quantity, item)}, ${lot_words(lot)}, ${place}: ${happened[what].toLowerCase()}`;
  return {
    errors,
    summary: `${item_name(words)}${expires && draft.expires ? `; expires ${expires}` : ""}.`,
    posts: [{
      path: paths[what], about: "stock", words: item_name(words),
      body: { at: rfc3339(now, context.zone), item, quantity, place, ...(lot && { lot }), ...(expires && { expires }) },
    }],
  };
}
