// SPDX-License-Identifier: MIT
// What a household takes where there are more of them than were tried.

/** A straight line over the logarithm of the number of households, by least squares, at `count`; at least what the most
 * households that were tried took each. `points`: [[households, what each took]...], with the most last. */
export function byTrend(points, count) {
  const x = points.map(([households]) => Math.log10(households)), y = points.map(([, each]) => each);
  const mean = (values) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [x_mean, y_mean] = [mean(x), mean(y)];
  const spread = x.reduce((sum, one) => sum + (one - x_mean) ** 2, 0);
  const slope = spread === 0 ? 0 : x.reduce((sum, one, i) => sum + (one - x_mean) * (y[i] - y_mean), 0) / spread;
  return Math.max(y.at(-1), y_mean + slope * (Math.log10(count) - x_mean));
}
