// SPDX-License-Identifier: MIT
// Records on their way, kept in the browser's database so that they outlive the page, in the order in which they were
// meant. Where a browser keeps nothing they live as long as the page: `store` tells which.
import { tried, waiting_table as table } from "./database";
import type { Intention } from "./intention";

interface Row extends Intention {
  household: string;
}

const of_household = (household: string): IDBKeyRange => IDBKeyRange.bound([household], [household, []]);

export function all_stored(household: string): Promise<Intention[]> {
  return tried(async (db) => ((await db.getAll(table, of_household(household))) as Row[]).map(({ household: _of, ...intention }) => intention), []);
}

export function store(household: string, intention: Intention): Promise<boolean> {
  return tried(async (db) => {
    await db.put(table, { ...intention, household });
    return true;
  }, false);
}

export function forget(household: string, { meant_ms, key }: Intention): Promise<void> {
  return tried((db) => db.delete(table, [household, meant_ms, key]), undefined);
}
