// SPDX-License-Identifier: MIT
// Messages and deliveries in words.
import type { About, Delivery, DeliveryLine, Message } from "../api/agency";
import { tell } from "./catalogue/agency";
import { clock, date_words, day_of, moment_words } from "./moments";
import { lot_words, pieces } from "./names";

export const about_words: Record<About, string> = { running_short: tell("agency.running_short"), unit_trouble: tell("agency.unit_trouble") };

/// "at 09:12" on the day it was written, else with its day.
function seen_words(seen: Date, written: Date, now: Date, zone: string): string {
  const is_today = (at: Date): boolean => day_of(at, now, zone) === day_of(now, now, zone);
  return is_today(seen) && is_today(written) ? tell("agency_card.at", { clock: clock(seen, zone) }) : moment_words(seen, now, zone);
}

export function message_words({ about, at, seen_at }: Message, now: Date, zone: string): string {
  const written = new Date(at);
  const moment = moment_words(written, now, zone);
  if (!seen_at) return tell("agency_card.not_seen", { about: about_words[about], moment });
  return tell("agency_card.seen", { about: about_words[about], moment, seen: seen_words(new Date(seen_at), written, now, zone) });
}

export interface LotLine {
  item: string;
  lot: string | null;
  expires: string | null;
  pieces: number;
}

/// Planned in packs, received in single pieces.
export function lot_lines({ lines }: Delivery): LotLine[] {
  const of_line = ({ item, packs, pieces: all, lots }: DeliveryLine): LotLine[] => lots.filter((lot) => lot.packs > 0).map((lot) => ({ item, lot: lot.lot, expires: lot.expires, pieces: (lot.packs * all) / packs }));
  return lines.flatMap(of_line);
}

export function what_words(lines: readonly { item: string; pieces: number }[]): string {
  return lines.map((line) => pieces(line.pieces, line.item)).join(", ");
}

export function lots_words(lines: readonly LotLine[]): string {
  return lines.map((line) => (line.lot ? tell("delivery.lot", { pieces: pieces(line.pieces, line.item), lot: lot_words(line.lot) }) : pieces(line.pieces, line.item))).join("; ");
}

export function delivery_words(delivery: Delivery): string {
  const values = { day: date_words(delivery.date), what: what_words(delivery.lines) };
  if (delivery.state === "left") return tell("agency_card.left", values);
  return tell(delivery.state === "no_answer" ? "agency_card.no_answer" : "agency_card.planned", values);
}
