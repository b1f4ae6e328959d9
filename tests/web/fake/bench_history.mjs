// SPDX-License-Identifier: MIT
// The stand-in's invented history of a side: sets of eleven days or so, a step in the left one of h-0142. A home whose name
// begins with "new" has none; one that begins with "unread" has sets that nobody read.

const day_ms = 86_400_000;
const wobble = [0.4, -1.6, 2.1, 0.2, -2.8, 1.4, 3.0, -0.9, -3.3, 1.9, 0.6, 2.2, -1.2, 1.0, -0.4];
const step = { from: 11, size: 13 };

/// EWMA and tabular CUSUM of the surprises, as the e-Handbook has them (NIST/SEMATECH 6.3.2.4 and 6.3.2.3).
function charts(surprises, { weight = 0.25, width = 2.998, k = 0.5, h = 4.77 } = {}) {
  let value = 0;
  let high = 0;
  let low = 0;
  return surprises.map((surprise, index) => {
    value = weight * surprise + (1 - weight) * value;
    const limit = width * Math.sqrt((weight / (2 - weight)) * (1 - (1 - weight) ** (2 * (index + 1))));
    high = Math.max(0, high + surprise - k);
    low = Math.max(0, low - surprise - k);
    return { ewma: { value, lower: -limit, upper: limit, signal: Math.abs(value) > limit }, cusum: { high, low, limit: h, signal: Math.max(high, low) > h } };
  });
}

const settings_text = (amplitude) => `12 breaths a minute, fraction 0.28, amplitude ${amplitude}, 10.5 h a day`;
/// In the middle of a set.
const settings_change = (from) => new Date(from + 5 * day_ms).toISOString();

function sets_of(household, side) {
  if (household.startsWith("new")) return [];
  const odd = household === "h-0142" && side === "left";
  const begin = Date.parse("2026-06-06T19:30:00Z");
  const mean = (index) => (odd && index >= step.from ? step.size * (1 - 0.75 ** (index - step.from)) * 0.45 : 0.5);
  const surprises = wobble.map((noise, index) => ((odd && index >= step.from ? step.size : 0) + (side === "right" ? -noise : noise) - mean(index)) / 5.2);
  const told = charts(surprises);
  return wobble.map((noise, index) => {
    const from = begin + index * 11.4 * day_ms;
    const more = Math.round(((odd && index >= step.from ? step.size : 0) + (side === "right" ? -noise : noise)) * 10) / 10;
    const read = !household.startsWith("unread") && index !== 6;
    return {
      number: index + 1, from: new Date(from).toISOString(), to: new Date(from + 11.4 * day_ms).toISOString(), unit: index < 5 ? "u-12" : "u-31", stimulator: "percent-power", cell_type: "lr6-family", lot: index < 7 ? "5C" : index < 13 ? "7Q" : "8B",
      ended: index === 9 ? "warning" : "planned", ended_text: index === 9 ? "The unit warned" : "Planned", settings: null, settings_text: settings_text(index < 8 ? 4 : 4.6),
      settings_changed: index === 7 ? [{ at: settings_change(from), settings: null, settings_text: settings_text(4.6), charge_before_percent: 44 }] : [],
      expected_mAh: index < 8 ? 1612 : 1790, expected_mA: index < 8 ? 5.9 : 6.5, observed: read ? { more_percent: more, low_percent: more - 4.6, high_percent: more + 4.8, depth_percent: 79 - (index % 4) * 3, readings: 4 + (index % 3) } : null,
      chart: read ? { expected_percent: mean(index), expected_low_percent: mean(index) - 10.2 + index * 0.15, expected_high_percent: mean(index) + 10.4 - index * 0.15, surprise: surprises[index], ...told[index] } : null,
      marks: [...(index === 5 ? ["unit"] : []), ...(index === 7 || index === 13 ? ["lot"] : [])], text: `Set ${index + 1}.`,
    };
  });
}

export function history(household, side, as_of, findings, checks) {
  const sets = sets_of(household, side);
  const odd = household === "h-0142";
  return {
    household, side, zone: "Europe/Oslo", as_of, fresh: true, sets,
    charts: { ewma: { weight: 0.25, width: 2.998, text: "The newest set weighs a quarter. 500 healthy sets between false signals." }, cusum: { k: 0.5, h: 4.77, text: "Sums what lies beyond half a standard deviation. 370 healthy sets between false signals." } },
    left_against_right: sets.length && !household.startsWith("unread") ? { more_percent: odd ? 4.4 : 0.8, low_percent: odd ? 1.2 : -2.1, high_percent: odd ? 7.7 : 3.8, sets_left: 14, sets_right: 14, text: odd ? "The left side used 4 % more than the right one, each against its own expectation (14 and 14 sets)." : "Left and right used alike (14 and 14 sets)." } : null,
    settings_changes: sets.length && !household.startsWith("unread") ? [{ at: sets[7].settings_changed[0].at, more_percent: odd ? 6.1 : 0.4, low_percent: odd ? 0.9 : -3.4, high_percent: odd ? 11.6 : 4.4, sets_before: 6, sets_after: 6, sets_between: 1, text: `After the settings changed, against before: ${odd ? "6.1 % more (95 %: 0.9 to 11.6 %)" : "0.4 % more (95 %: -3.4 to 4.4 %)"}. Where the record holds the new settings it should be nought. One set drew by both settings and is left out.` }] : [],
    checks: checks.filter((one) => one.household === household), findings: findings.filter((one) => one.household === household || one.homes.includes(household)).filter((one) => one.state !== "closed"),
  };
}

export const history_csv = ({ sets }) => ["number,from,to,lot,more_percent", ...sets.map((one) => [one.number, one.from, one.to, one.lot, one.observed?.more_percent ?? ""].join(","))].join("\r\n");
