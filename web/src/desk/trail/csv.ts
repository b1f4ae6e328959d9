// SPDX-License-Identifier: MIT
// The links that are shown as a table, made in the browser of what the service told.
import type { TrailLink } from "../trail_types";
import { action_words, type Names } from "./link_words";

const columns = ["number", "at", "action", "in_words", "subject", "household", "who", "who_label", "erased", "content_hash", "hash"] as const;

/// A cell that begins with = + - @ gets a ' before it, as in the service's own tables, so that no program runs it.
function cell(value: string | number | boolean | null | undefined): string {
  const text = String(value ?? "");
  const shown = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(shown) ? `"${shown.replaceAll('"', '""')}"` : shown;
}

export function csv_of(links: readonly TrailLink[], names: Names): string {
  const line = (one: TrailLink): string => {
    const more = { in_words: one.action && action_words(one.action), who_label: names.get(one.who ?? "")?.label };
    const all = { ...one, ...more };
    return columns.map((column) => cell(all[column])).join(",");
  };
  return [columns.join(","), ...links.map(line), ""].join("\r\n");
}

export function save_csv(name: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: "text/csv;charset=utf-8" }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 0);
}
