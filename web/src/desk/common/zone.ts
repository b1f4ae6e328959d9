// SPDX-License-Identifier: MIT
// The clock of the agency: all times at its desks are told by it, wherever the browser stands. The service names its zone
// with the documents of the desk; it is kept for the pages whose documents name none.
import { kept } from "../../state/kept";

let wall: Intl.DateTimeFormat | null = null;
let zone_now = "";

/// One formatter for the zone: hundreds of times stand on one page.
function tell_in(zone: string): void {
  try {
    wall = new Intl.DateTimeFormat("sv-SE", { timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
    zone_now = zone;
  } catch {
    wall = null; // a zone that this browser does not know: its own clock is all there is
  }
}

export function heed_zone(document: unknown): void {
  const zone = typeof document === "object" && document !== null ? (document as { zone_now?: unknown }).zone_now : undefined;
  if (typeof zone !== "string" || zone === zone_now) return;
  tell_in(zone);
  kept.set("desk-zone", zone);
}

/// "2026-12-02T21:30" at the agency; none until its zone is known.
export function at_the_agency(at: Date): string | null {
  if (!zone_now) tell_in(kept.get("desk-zone") ?? "");
  return wall ? wall.format(at).replace(" ", "T") : null;
}
