// SPDX-License-Identifier: MIT
// The browser's database of this phone: records on their way, and the last documents of each household. Where a browser
// keeps nothing (a private window) every attempt gives what stands in for it.
import { openDB, type IDBPDatabase } from "idb";

export const waiting_table = "waiting";
export const documents_table = "documents";
let opening: Promise<IDBPDatabase> | null = null;

function database(): Promise<IDBPDatabase> {
  opening ??= openDB("cellarer", 1, {
    upgrade: (db) => {
      db.createObjectStore(waiting_table, { keyPath: ["household", "meant_ms", "key"] });
      db.createObjectStore(documents_table, { keyPath: "name" });
    },
  });
  return opening;
}

export async function tried<T>(work: (db: IDBPDatabase) => Promise<T>, otherwise: T): Promise<T> {
  try {
    return await work(await database());
  } catch {
    return otherwise;
  }
}

/// Signing out: what is kept of every household goes.
export function forget_everything(): Promise<void> {
  return tried(async (db) => {
    await db.clear(waiting_table);
    await db.clear(documents_table);
  }, undefined);
}
