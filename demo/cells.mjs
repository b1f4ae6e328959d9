// SPDX-License-Identifier: MIT
// What the invented household's cells and gauges do. This is the story's own small nature, kept apart from the
// model that forecasts it: a table instead of a fit, hours instead of distributions.

/** Volts of one cell at 100 mA, by the share of its charge that is used: the mean of the measured LR6 discharges in
 *  data/cells, hours to each voltage over hours to 0.90 V. */
const at100mA = [[0, 1.56], [0.0057, 1.5], [0.02, 1.45], [0.0468, 1.4], [0.0948, 1.35], [0.1818, 1.3], [0.2943, 1.25], [0.4713, 1.2],
  [0.6506, 1.15], [0.7889, 1.1], [0.8736, 1.05], [0.9323, 1.0], [0.9726, 0.95], [1.0, 0.9], [1.03, 0.8]];

/** Charge of one cell to 0.90 V at the small currents of pacing [mAh]. */
export const charge_mAh = 2700;

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

/** Volts of a set under a current that the gauge sees: a smaller one than 100 mA leaves more. */
export function setVolts(used, seen_mA, cellsInSeries) {
  const ohm = 0.3 + 0.35 * used;
  return cellsInSeries * (along(at100mA, used) + (ohm * (100 - seen_mA)) / 1000);
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
