// SPDX-License-Identifier: MIT
// What the form of a change has filled in before anyone chooses: when, why, and which lot. Never the side. What is filled in
// is what happened in nine of ten changes of the demo's two years (tests/web/preselected.test.mjs prints it), and stands in
// the summary above the button.
import type { SideForecast } from "../api/types";
import { wall_time } from "../time/zone";
import type { Reason } from "../words/names";

/// After a warning or a stop that is why; without one it was planned.
export function likely_reason(sides: readonly (Pick<SideForecast, "warned_at" | "stopped_at"> | undefined)[]): Reason {
  if (sides.some((side) => side?.stopped_at)) return "ran_out";
  return sides.some((side) => side?.warned_at) ? "warning" : "planned";
}

const people_are_up_h = 5;
const noon_h = 12;

/// In the morning people write down what they did the evening before; not so after a warning, which is acted on at once.
export function likely_when(reason: Reason, now: Date, zone: string): "now" | "evening" {
  const { hour } = wall_time(now, zone);
  return reason === "planned" && hour >= people_are_up_h && hour < noon_h ? "evening" : "now";
}
