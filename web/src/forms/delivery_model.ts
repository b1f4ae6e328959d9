// SPDX-License-Identifier: MIT
// What came of a planned delivery: all, a part with what was counted of each lot, or nothing. Only the service makes stock
// of it, once.
import type { Draft } from "../state/draft";
import { delivery_on } from "../state/correspondence";
import { lot_lines, lots_words, type LotLine } from "../words/agency";
import { date_words } from "../words/moments";
import { tell } from "../words/catalogue/agency";
import type { Context, FieldOfPlace, Model } from "./context";

export const delivery_fields: FieldOfPlace = { "/answer": "answer", "/lines": "answer", "/round": "answer" };

/// Named by the lot, so that what was typed stays with it where the plan changes meanwhile.
export const count_field = ({ item, lot }: LotLine): string => `count:${item}:${lot ?? ""}`;

export const counted = (line: LotLine, draft: Draft): string => draft[count_field(line)] ?? String(line.pieces);

const nothing = (errors: Record<string, string>): Model => ({ errors, summary: "", posts: [] });

function part_of(lines: readonly LotLine[], draft: Draft, errors: Record<string, string>): LotLine[] {
  for (const line of lines) if (!/^\d{1,5}$/.test(counted(line, draft).trim())) errors[count_field(line)] = tell("delivery.write_a_number");
  const came = lines.map((line) => ({ ...line, pieces: Number(counted(line, draft)) })).filter((line) => line.pieces > 0);
  if (!Object.keys(errors).length && !came.length) errors["answer"] = tell("delivery.nothing");
  return came;
}

const on_the_wire = ({ item, lot, expires, pieces }: LotLine): Record<string, unknown> => ({ item, pieces, ...(lot && { lot }), ...(expires && { expires }) });

export function delivery_model(draft: Draft, context: Context): Model {
  const delivery = delivery_on(context.told, draft.round);
  if (!delivery) return nothing({ answer: tell("delivery.not_known") });
  const day = date_words(delivery.date);
  const { round } = delivery;
  const errors: Record<string, string> = {};
  if (draft.answer === "none") {
    const words = tell("delivery.none_came", { day });
    return { errors, summary: tell("delivery.counts_not", { words }), posts: [{ path: "delivery-answers", about: "agency", words, body: { round, answer: "not_received" } }] };
  }
  if (draft.answer !== "all" && draft.answer !== "part") return nothing({ answer: tell("delivery.choose") });
  const all = lot_lines(delivery);
  const came = draft.answer === "all" ? all : part_of(all, draft, errors);
  if (Object.keys(errors).length) return nothing(errors);
  const words = tell(draft.answer === "all" ? "delivery.all_came" : "delivery.part_came", { day });
  const lines = draft.answer === "part" && { lines: came.map(on_the_wire) };
  return { errors, summary: tell("delivery.counts", { words, what: lots_words(came) }), posts: [{ path: "delivery-answers", about: "stock", words, body: { round, answer: "received", ...lines } }] };
}
