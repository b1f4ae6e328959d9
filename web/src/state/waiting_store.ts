// SPDX-License-Identifier: MIT
// Records on their way, kept in the browser's database so that they outlive the page, in the order in which they were
// meant; one that was refused stays there with the reason until it was closed or sent again. Where a browser keeps nothing
// they live as long as the page: `store` tells which.
import { tried, waiting_table as table } from "./database";
import type { Intention, Refusal } from "./intention";
import type { Problem } from "../api/types";

interface Row extends Intention {
  household: string;
  refused?: Problem;
}

const of_household = (household: string): IDBKeyRange => IDBKeyRange.bound([household], [household, []]);

export function all_stored(household: string): Promise<{ waiting: Intention[]; refused: Refusal[] }> {
  return tried(async (db) => {
    const rows = (await db.getAll(table, of_household(household))) as Row[];
    const waiting: Intention[] = [], refused: Refusal[] = [];
    for (const { household: _of, refused: problem, ...intention } of rows) {
      if (problem) refused.push({ intention, problem });
      else waiting.push(intention);
    }
    return { waiting, refused };
  }, { waiting: [], refused: [] });
}

export function store(household: string, intention: Intention, refused?: Problem): Promise<boolean> {
  return tried(async (db) => {
    await db.put(table, { ...intention, household, ...(refused && { refused }) });
    return true;
  }, false);
}

export function forget(household: string, { meant_ms, key }: Intention): Promise<void> {
  return tried((db) => db.delete(table, [household, meant_ms, key]), undefined);
}
