// SPDX-License-Identifier: MIT
// What of the messages and deliveries is shown on the first screen: what waits for somebody, and what was told lately.
import type { Correspondence, Delivery, Message } from "../api/agency";
import type { DeskState } from "./desk";

/// As the service told it, and when.
export interface Told {
  document: Correspondence;
  read_ms: number;
}

const shown_messages = 3;
const seen_lately_ms = 2 * 86_400_000;
const answered: readonly string[] = ["received", "not_received"];
export const is_open = ({ state }: Delivery): boolean => !answered.includes(state);

/// Newest first, as they come: all that nobody has seen yet, and what was seen lately.
export function messages_to_show({ document }: Told, now: Date): Message[] {
  return document.messages.filter(({ seen_at }) => !seen_at || now.getTime() - Date.parse(seen_at) < seen_lately_ms).slice(0, shown_messages);
}

/// The next to come first.
export function open_deliveries(told: Told | null): Delivery[] {
  const open = told?.document.deliveries.filter(is_open) ?? [];
  return open.sort((a, b) => a.date.localeCompare(b.date));
}

export function delivery_on(told: Told | null, round: string | undefined): Delivery | undefined {
  return told?.document.deliveries.find((one) => one.round === round);
}

/// Whether there is anything to show: then the part of the pages that shows it is fetched.
export function has_something({ told, waiting, recorded, now }: DeskState): boolean {
  const of_the_agency = [...waiting, ...recorded].some((one) => one.about === "agency");
  if (of_the_agency || !told) return of_the_agency;
  return told.document.closed_at !== null || messages_to_show(told, now).length > 0 || open_deliveries(told).length > 0;
}
