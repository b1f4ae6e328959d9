// SPDX-License-Identifier: MIT
// A home for the bench at the real service: eighteen sets a side, whose left ones have used more since the eleventh.
const day_ms = 86_400_000;
const [set_days, sets, from_set] = [10, 18, 10];
const every_day = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
const at = (ms) => new Date(ms).toISOString().replace(/\.\d+/, "");

/// `ask` acts as an administrator. In the middle of the right side's last finished set its amplitude was changed.
export async function home_that_uses_more(ask, household = "h-9") {
  const path = `/households/${household}`;
  const start = Date.now() - (sets * set_days + 6) * day_ms;
  const write = (what, body) => ask("POST", `${path}/${what}`, body);
  await ask("POST", "/households", { household, zone: "Europe/Oslo", changing_times: ["21:30"] });
  await write("units", { serial: "u-9", stimulator: "percent-power", from: at(start - day_ms) });
  for (const side of ["left", "right"]) {
    const settings = { side, rate_per_min: 12, inspiratory_fraction: 0.28, amplitude: 4, paced: [{ days: every_day, from: "21:00", to: "07:30" }] };
    await write("settings", { ...settings, from: at(start - day_ms) });
    if (side === "right") await write("settings", { ...settings, amplitude: 4.2, from: at(start + ((sets - 0.5) * set_days + 5) * day_ms) });
    for (let set = 0; set <= sets; set++) {
      const went_in = start + (set * set_days + (side === "left" ? 0 : 5)) * day_ms;
      await write("cell-changes", { at: at(went_in), side, reason: "planned", cells: { profile: "lr6-family", lot: "A1" }, from_stock: false });
      const percent = (set % 2 ? 39 : 41) - (side === "left" && set >= from_set ? 18 : 0);
      if (set < sets) await write("readings", { at: at(went_in + set_days * day_ms - 7_200_000), side, percent });
    }
  }
  return { household, sets };
}

/// What else the bench may know of that home and its unit: antennas that wore out, currents and gauge, a fault.
export async function measured_and_worn(ask, household) {
  const days_ago = (days) => at(Date.now() - days * day_ms);
  for (const [days, why] of [[100, "first"], [70, "worn_out"], [30, "worn_out"]]) await ask("POST", `/households/${household}/parts`, { part: "antenna", side: "left", at: days_ago(days), why });
  const bursts = ["left", "right"].map((side) => ({ side, amplitude: 4, current_mA: 61 }));
  const gauge = [{ set_V: 3, percent: 100 }, { set_V: 1.9, percent: 0 }];
  await ask("POST", "/profile-proposals", { kind: "unit", serial: "u-9", at: days_ago(1), bursts, gauge });
  await ask("POST", "/units/u-9/events", { at: days_ago(1), what: "fault", note: "A contact was loose." });
}
