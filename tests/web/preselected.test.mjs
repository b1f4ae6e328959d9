// SPDX-License-Identifier: MIT
// What the form of a change has filled in, held against the demo's two years: time, reason and lot, all three right in nine
// of ten changes. Prints how many. The demo is invented; it was written before the form chose anything.
import assert from "node:assert/strict";
import test from "node:test";
import { tell } from "../../demo/story.mjs";
import { load_source } from "./support/source.mjs";

const { likely_reason, likely_when, lot_to_take, last_evening } = await load_source("forms/preselected", "state/lots", "time/zone");
const zone = "Europe/Oslo";
const close_ms = 45 * 60_000;  // the forecast moves by less than a percent of a set's life

/// What the household's page knew of its cells when the change was written down.
function lots_before(household, change) {
  const lots = new Map();
  for (const { lot, quantity, expires, at } of household.deliveries) if (at <= change.at) lots.set(lot, { lot, expires, quantity: (lots.get(lot)?.quantity ?? 0) + quantity });
  for (const { cells, recorded_at } of household.cell_changes) if (recorded_at < change.recorded_at && lots.has(cells.lot)) lots.get(cells.lot).quantity -= 2;
  return [...lots.values()].filter((lot) => lot.quantity > 0);
}

function side_before(household, change) {
  const set_in = household.cell_changes.filter((one) => one.side === change.side && one.at < change.at).at(-1);
  const seen = household.readings.filter((one) => one.side === change.side && one.at >= (set_in?.at ?? 0) && one.recorded_at <= change.recorded_at && one.at <= change.at);
  const first = (what) => seen.find((one) => one[what])?.at;
  return { warned_at: first("warning"), stopped_at: first("stopped") };
}

test("time, reason and lot are right in nine of ten changes of the demo's two years", () => {
  const right = { time: 0, reason: 0, lot: 0, all: 0 };
  let changes = 0;
  for (const seed of [1, 2, 3]) {
    const { household } = tell({ seed, day: "2026-11-28", zone });
    for (const change of household.cell_changes.slice(2)) {
      const now = new Date(change.recorded_at);
      const reason = likely_reason([side_before(household, change)]);
      const at = likely_when(reason, now, zone) === "evening" ? last_evening("21:30", now, zone) : now;
      const found = { time: Math.abs(at.getTime() - change.at) <= close_ms, reason: reason === change.reason, lot: lot_to_take(lots_before(household, change), 2)?.lot === change.cells.lot };
      changes++;
      for (const [what, is_right] of Object.entries(found)) right[what] += is_right ? 1 : 0;
      right.all += Object.values(found).every(Boolean) ? 1 : 0;
    }
  }
  const share = (count) => `${((100 * count) / changes).toFixed(1)} %`;
  console.log(`preselected in ${changes} changes of three invented households over two years: time ${share(right.time)}, reason ${share(right.reason)}, lot ${share(right.lot)}, all three ${share(right.all)}`);
  assert.ok(right.all / changes >= 0.9, JSON.stringify(right));
});
