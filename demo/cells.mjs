// SPDX-License-Identifier: MIT
// What the invented household's cells and gauges do: a table that is walked hour by hour, with the day's and the set's
// own luck, where the model that forecasts it reckons with distributions.

/** Volts of one cell at 12 mA by the share of its charge that is used, and that charge to 0.90 V, as
 *  `cellarer runtime data/cells/lr6-family.json --current-ma 12 --cutoff-v 1.2` and so on give them. */
const at12mA = [[0, 1.56], [0.01, 1.5], [0.028, 1.45], [0.059, 1.4], [0.117, 1.35], [0.221, 1.3], [0.449, 1.25], [0.735, 1.2],
  [0.851, 1.15], [0.906, 1.1], [0.941, 1.05], [0.966, 1.0], [0.985, 0.95], [1.0, 0.9], [1.024, 0.8]];
export const charge_mAh = 2916;

/** Linear between the points [x, y], with rising x; beyond the ends the end's value. */
export function along(points, x) {
  if (x <= points[0][0]) return points[0][1];
  for (let i = 1; i < points.length; i++) {
    const [x0, y0] = points[i - 1];
    const [x1, y1] = points[i];
    if (x <= x1) return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
  }
  return points[points.length - 1][1];
}

/** Volts of a set under a current that the gauge sees; what exceeds 12 mA meets the cells' fast resistance. */
export function setVolts(used, seen_mA, cellsInSeries) {
  const ohm = 0.2 + 0.7 * used * used;
  return cellsInSeries * (along(at12mA, used) - (ohm * (seen_mA - 12)) / 1000);
}

/** What the gauge shows for that voltage, before its noise [percent]. */
export function percentAt(volts, gauge) {
  return along([...gauge.volts_at_percent].map(([percent, at]) => [at, percent]).sort((a, b) => a[0] - b[0]), volts);
}

/** The load of one side: what it draws on average while pacing, and what the gauge sees then [mA]. */
export function load(stimulator, side, settings) {
  const part = stimulator[side];
  const burst = part.burst_base_mA + part.burst_slope_mA * (settings.amplitude / part.reference_amplitude) ** part.exponent;
  const share = settings.inspiratory_fraction;
  const mean = share * burst + (1 - share) * part.rest_mA;
  return { mean_mA: mean, seen_mA: mean + stimulator.burst_seen * (burst - mean), standby_mA: part.standby_mA };
}

/** The current at a voltage, against the profile's reference voltage. */
export function converted(stimulator, current_mA, volts) {
  const ratio = stimulator.reference_V / volts;
  return current_mA * ({ constant_power: ratio, constant_resistance: 1 / ratio }[stimulator.converter] ?? 1);
}
