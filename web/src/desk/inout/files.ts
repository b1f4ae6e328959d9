// SPDX-License-Identifier: MIT
// Files of an import as they are sent: their bytes, so that the service can say whether they are UTF-8.

export type Kind = "households" | "items" | "counts";

export interface ImportFile {
  kind: Kind;
  name: string;
  csv_base64: string;
  /// Its lines, to show the one that a problem is in.
  lines: string[];
}

export const columns: Record<Kind, string> = {
  households: "household,area,zone,changing_times,stop", items: "household,item,pack_size,lead_days,every_days,per_cell_change",
  counts: "household,item,lot,quantity,unit,expires,place,counted_at",
};

/// By the columns in its first line; by its name where those say nothing.
export function kind_of(name: string, first_line: string): Kind {
  const heads = first_line.toLowerCase().replace(/^\ufeff/, "").split(/[,;]/).map((one) => one.trim());
  if (heads.includes("quantity") || heads.includes("counted_at")) return "counts";
  if (heads.includes("pack_size") || heads.includes("lead_days")) return "items";
  if (heads.includes("zone") || heads.includes("changing_times")) return "households";
  const found = (Object.keys(columns) as Kind[]).find((kind) => name.toLowerCase().includes(kind.slice(0, 4)));
  return found ?? "households";
}

function base64(bytes: Uint8Array): string {
  let text = "";
  const piece = 0x8000;
  for (let at = 0; at < bytes.length; at += piece) text += String.fromCharCode(...bytes.subarray(at, at + piece));
  return btoa(text);
}

export function import_file(name: string, bytes: Uint8Array): ImportFile {
  const lines = new TextDecoder().decode(bytes).split(/\r?\n/);
  return { kind: kind_of(name, lines[0] ?? ""), name, csv_base64: base64(bytes), lines };
}
