// SPDX-License-Identifier: MIT
// Invented figures of waste and risk, of a shape that could be.
import { day } from "./chance.mjs";

const share = (p50, half) => ({ p05: p50 - half, p50, p95: p50 + half });

export function waste(rows, now, left_out) {
  return {
    as_of: now.toISOString(), left_out, from: day(now, -183), to: day(now, 0), households: 300, sets: 812, cells_used: 1624,
    thrown_away: { sets: 772, share: share(0.24, 0.03), cells_worth: share(371, 46) }, expired_cells: 24, discarded_cells: 8, store: { expired_cells: 96, discarded_cells: 0 }, unknown_sets: 40,
    by_month: ["2026-06", "2026-07", "2026-08", "2026-09", "2026-10", "2026-11"].map((month, index) => ({ month, sets: 120 + index * 6, share: share(0.29 - index * 0.012, 0.03) })),
    most: rows.slice(20, 24).map((one, index) => ({ household: one.household, area: one.area, sets: 9 - index, share: share(0.52 - index * 0.04, 0.06) })),
    sentence: "About 24 of 100 parts of the charge went out with the cells.", limit: "What was left is an estimate from what was known at each change.",
  };
}

export function risk_curve(now, left_out) {
  const limits = Array.from({ length: 22 }, (_, index) => 10 ** (-6 + index / 7));
  const points = [1, 2, 3].flatMap((changing_times) => limits.map((risk_limit, index) => {
    const p50 = 17_900 - index * 70 - (changing_times - 1) * (changing_times === 2 ? 850 : 600) + index * changing_times * 4;
    return { changing_times, risk_limit, sets_a_year: { p05: p50 - 170, p50, p95: p50 + 170 }, charge_left_share: 0.25 - index * 0.003 - changing_times * 0.02, expected_run_outs_a_year: risk_limit * 180 };
  }));
  return { as_of: now.toISOString(), left_out, households: 280, sides: 560, now: { risk_limit: 1e-5, sets_a_year: 17_430 }, points, sentence: "A second changing time a day would save about 850 sets a year at the same limit of risk.", limit: "Figures below 1 in 10 000 rest on assumptions about tails." };
}
