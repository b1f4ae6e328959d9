// SPDX-License-Identifier: MIT
// What a gauge shows now by its own side's forecast, so that a reading sent to the service is one that it expects.

/** The middle of the chart's band at `now_ms`; none before its first point or after its last. */
function expectedPercent(points, now_ms) {
  const after = points.findIndex((point) => Date.parse(point.at) > now_ms);
  if (after < 1) return undefined;
  const [from, to] = [points[after - 1], points[after]];
  const part = (now_ms - Date.parse(from.at)) / (Date.parse(to.at) - Date.parse(from.at));
  return from.p50 + part * (to.p50 - from.p50);
}

/** By a home's charts of both sides (`GET /api/v1/households/{household}/chart`), what each side's gauge shows: in percent
 * or in steps, as the unit's gauge was read before. None for a side of which nothing is expected, or where neither side's
 * set was read yet. */
export function expectedReadings(charts, now_ms) {
  const shown = charts.flatMap((chart) => chart.readings).map((reading) => reading.text.match(/^(?:\d+ %|step \d+ of (\d+))$/)).find(Boolean);
  return charts.map((chart) => {
    const percent = expectedPercent(chart.points, now_ms);
    if (percent === undefined || !shown) return undefined;
    if (shown[1] === undefined) return { percent: Math.round(percent) };
    const of = Number(shown[1]);
    return { step: Math.min(of, Math.ceil((percent / 100) * of)), of };
  });
}
