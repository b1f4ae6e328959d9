// SPDX-License-Identifier: MIT
// The last forecast and the last document of a household, and what it and its agency told each other, for a page that opens
// without a signal. How old they are and what of them may still be shown is decided where every forecast's age is (side_view,
// dated).
import type { Forecast, Household } from "../api/types";
import type { Told } from "./correspondence";
import { documents_table, tried } from "./database";

export interface Documents {
  household: Household;
  forecast: Forecast;
  told?: Told | null;
}

export function keep_documents(name: string, documents: Documents): void {
  void tried((db) => db.put(documents_table, { name, ...documents }), undefined);
}

export function kept_documents(name: string): Promise<Documents | null> {
  return tried(async (db) => ((await db.get(documents_table, name)) as Documents | undefined) ?? null, null);
}

export function forget_documents(name: string): void {
  void tried((db) => db.delete(documents_table, name), undefined);
}
