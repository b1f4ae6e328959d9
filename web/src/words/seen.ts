// SPDX-License-Identifier: MIT
// The newest reading of a side, in a sentence that names the side's own gauge.
import type { Entry, Side } from "../api/types";
import { moment_words } from "./moments";
import { tell } from "./catalogue/first";

function value_words(body: Record<string, unknown>): string | null {
  if (typeof body["percent"] === "number") return `${body["percent"]} %`;
  if (typeof body["step"] === "number") return tell("seen.step_of", { step: body["step"], of: String(body["of"]) });
  return null;
}

export function seen_words(entries: Entry[], side: Side, zone: string, now: Date): string | null {
  const of_side = entries.filter((entry) => entry.kind === "reading" && !entry.voided_by && entry.body?.["side"] === side);
  const newest = of_side.sort((a, b) => Date.parse(b.at) - Date.parse(a.at))[0];
  if (!newest) return null;
  const when = moment_words(new Date(newest.at), now, zone);
  const gauge = value_words(newest.body ?? {});
  if (gauge) return tell("seen.the_unit_s_gauge_for_the", { side, gauge, when });
  const volts = newest.body?.["set_V"];
  return typeof volts === "number" ? tell("seen.the_cells_measured_v_readings_of", { side, volts, when }) : null;
}
