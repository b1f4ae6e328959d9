// SPDX-License-Identifier: MIT
// Which rows the list shows and in what order. What is searched is laid out once for all rows, so that a letter typed
// costs one pass over plain strings.
import type { Attention, BoardRow } from "../board_types";

export type SortKey = "urgency" | "deliver_by" | "household" | "area" | "count" | "round";

export interface View {
  text: string;
  area: string;
  show: "all" | "attention" | "closed" | Attention;
  sort: SortKey;
}

export const first_view: View = { text: "", area: "", show: "all", sort: "urgency" };

export interface Listed {
  rows: readonly BoardRow[];
  texts: readonly string[];
}

export function lay_out(rows: readonly BoardRow[]): Listed {
  const texts = rows.map((row) => [row.household, row.area ?? "", row.stop ?? "", row.next_round?.round ?? "", ...row.messages.map((one) => one.note ?? "")].join("\n").toLowerCase());
  return { rows, texts };
}

function is_shown(row: BoardRow, { area, show }: View): boolean {
  if (area && (row.area ?? "") !== area) return false;
  if (show === "closed") return row.closed_at !== null;
  if (show === "closed_with_open") return row.attention.includes(show);
  if (row.closed_at !== null) return false;
  return show === "all" || (show === "attention" ? row.attention.length > 0 : row.attention.includes(show));
}

const never = "9999";
const keys: Record<Exclude<SortKey, "urgency">, (row: BoardRow) => string> = {
  deliver_by: (row) => row.deliver_by ?? never,
  household: (row) => row.household,
  area: (row) => row.area ?? never,
  count: (row) => row.last_count_at ?? "",
  round: (row) => row.next_round?.date ?? never,
};

/// Rows of equal keys keep the order of urgency.
function sorted(rows: BoardRow[], sort: SortKey): BoardRow[] {
  if (sort === "urgency") return rows;
  const key = keys[sort];
  const pairs = rows.map((row, index) => ({ row, key: key(row), index }));
  pairs.sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : a.index - b.index));
  return pairs.map(({ row }) => row);
}

/// Every word typed has to be somewhere in the row.
export function rows_of(listed: Listed, view: View): BoardRow[] {
  const words = view.text.toLowerCase().split(/\s+/).filter(Boolean);
  const found = listed.rows.filter((row, index) => is_shown(row, view) && words.every((word) => listed.texts[index]?.includes(word)));
  return sorted(found, view.sort);
}

export const areas_of = (rows: readonly BoardRow[]): string[] => [...new Set(rows.map((row) => row.area ?? "").filter(Boolean))].sort();

export const with_attention = (rows: readonly BoardRow[], what: Attention): BoardRow[] => rows.filter((row) => (row.closed_at === null || what === "closed_with_open") && row.attention.includes(what));
