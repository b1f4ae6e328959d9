// SPDX-License-Identifier: MIT
// What a household takes against how many there are, as a picture (SVG): from what the bench prints with --json. In the
// look of tests/bench/report/curve_picture.cpp; all lengths in user units.
const panel = { width: 288, height: 260 }, left = 58, top = 84, gap = 76, below = 62;

/** By panel, its curves as rows name them (rows/growth.mjs); each in its own unit from nought. */
const panels = [
  { title: 'Processor time a household, ms', curves: [['anew', 'all forecasts anew', 'ours'], ['next', 'half a day later', 'best'], ['load', 'loading', 'peer']] },
  { title: 'Memory, MB', curves: [['served_memory', 'the service, at rest', 'ours'], ['anew_memory', 'while all are computed', 'peer']] },
  { title: 'On disk a household, KB', curves: [['disk', 'the store', 'ours']] },
];

const style = ':root{--paper:#fffdf7;--ink:#1b2230;--soft:#565d6d;--hair:#ded6c6;--lamp:#9a6a00}'
  + '@media (prefers-color-scheme:dark){:root{--paper:#10141b;--ink:#eff1f5;--soft:#adb4c1;--hair:#2e3642;--lamp:#f2bf55}}'
  + '.paper{fill:var(--paper)}text{font:14px system-ui,sans-serif;fill:var(--ink);stroke:var(--paper);stroke-width:4px;paint-order:stroke}'
  + '.small{font-size:13px;fill:var(--soft)}.title{font-size:17px;font-weight:600}.panel{font-weight:600}.hair{stroke:var(--hair);fill:none}'
  + 'polyline{stroke-linejoin:round;fill:none;stroke-width:2}.ours{stroke:var(--lamp)}polyline.ours{stroke-width:3}.best{stroke:var(--ink)}'
  + '.peer{stroke:var(--soft)}polyline.peer{stroke-dasharray:6 4}circle{fill:var(--paper);stroke-width:2}.name-ours{fill:var(--lamp);font-weight:600}.name-peer{fill:var(--soft)}';

const fixed = (value) => value.toFixed(1);
const text = (x, y, anchor, kind, words) => `<text x="${fixed(x)}" y="${fixed(y)}" text-anchor="${anchor}" class="${kind}">${words}</text>`;
const line = (x1, y1, x2, y2) => `<line x1="${fixed(x1)}" y1="${fixed(y1)}" x2="${fixed(x2)}" y2="${fixed(y2)}" class="hair"/>`;

/** [[households, value]...] of a curve, fewest first; of a size that several runs had, the first of them counts. */
function pointsOf(runs, curve) {
  const found = new Map();
  for (const { rows } of runs) for (const row of rows) if (row.curve === curve && !found.has(row.households)) found.set(row.households, row.ours);
  return [...found].sort(([a], [b]) => a - b);
}

/** Between two ticks: 1, 2 or 5 times a power of ten, so that there are at most five steps to `most`. */
export function tickStep(most) {
  const power = 10 ** Math.floor(Math.log10(most / 5));
  return [1, 2, 5, 10].map((times) => times * power).find((step) => step * 5 >= most);
}

/** How high a curve is at x; none outside of it. */
function heightAt(points, x) {
  const after = points.findIndex((point) => point[0] >= x);
  if (after < 0 || points[0][0] > x) return undefined;
  if (after === 0) return points[0][1];
  const [[x1, y1], [x2, y2]] = [points[after - 1], points[after]];
  return y1 + ((x - x1) / (x2 - x1)) * (y2 - y1);
}

/** The middle of a curve's name: near the curve, within the panel, on no curve and no other name. */
function placeOfName(name, points, lines, names) {
  const half = 4 * name.length, height = 15, clear = 6;
  let best = { worth: -Infinity };
  for (let x = half; x <= panel.width - half; x += 4) {
    const on_curve = heightAt(points, x);
    for (const shift of on_curve === undefined ? [] : [-9, 20, -18, 29, -27, 38]) {
      const y = on_curve + shift, middle = y - 5;
      if (y < height || y > panel.height - clear) continue;
      const heights = Array.from({ length: 17 }, (_, i) => x + (i / 8 - 1) * half).flatMap((at) => lines.map((other) => heightAt(other, at))).filter((one) => one !== undefined);
      const near = names.filter((other) => Math.abs(other.x - x) < half + other.half).map((other) => Math.abs(other.y - y) - height / 2);
      const room = Math.min(clear, ...near.map((one) => one - height / 2), ...heights.map((one) => Math.abs(one - middle) - height / 2));
      const worth = room - Math.abs(shift) / 20;
      if (worth > best.worth) best = { worth, x, y, half };
    }
  }
  return best;
}

function drawn({ title, curves }, runs, sizes) {
  const known = curves.map(([curve, name, ink]) => ({ name, ink, points: pointsOf(runs, curve) })).filter(({ points }) => points.length > 0);
  const most = Math.max(...known.flatMap(({ points }) => points.map(([, value]) => value)));
  const step = tickStep(most), ticks = Math.ceil(most / step);
  const [from, to] = [Math.log10(sizes[0]), Math.log10(sizes.at(-1))];
  const x_of = (households) => (to > from ? (panel.width * (Math.log10(households) - from)) / (to - from) : panel.width / 2);
  const y_of = (value) => panel.height * (1 - value / (step * ticks));
  const parts = [text(0, -14, 'start', 'panel', title)];
  for (let i = 0; i <= ticks; i += 1) parts.push(line(0, y_of(step * i), panel.width, y_of(step * i)), text(-8, y_of(step * i) + 5, 'end', 'small', String(Number((step * i).toPrecision(6)))));
  for (const size of sizes) parts.push(line(x_of(size), 0, x_of(size), panel.height), text(x_of(size), panel.height + 20, 'middle', 'small', String(size).replace(/\B(?=(\d{3})+$)/g, ' ')));
  const lines = known.map(({ points }) => points.map(([households, value]) => [x_of(households), y_of(value)]));
  const names = [];
  known.forEach(({ name, ink }, i) => {
    parts.push(`<polyline class="${ink}" points="${lines[i].map((point) => point.map(fixed).join(',')).join(' ')}"/>`);
    for (const [x, y] of lines[i]) parts.push(`<circle class="${ink}" cx="${fixed(x)}" cy="${fixed(y)}" r="4"/>`);
    names.push({ ...placeOfName(name, lines[i], lines, names), name, ink });
  });
  return [...parts, ...names.filter(({ x }) => x !== undefined).map(({ x, y, name, ink }) => text(x, y, 'middle', `name-${ink}`, name))].join('\n');
}

/** `runs`: what the bench printed with --json, once or more. */
export function growthPicture(runs) {
  const sizes = [...new Set(runs.flatMap(({ rows }) => rows.filter((row) => row.curve).map((row) => row.households)))].sort((a, b) => a - b);
  if (sizes.length < 2) throw new Error('a curve wants two sizes at least: --json of tests/bench/speed/run --only growth');
  const width = left + panels.length * (panel.width + gap), height = top + panel.height + below;
  const title = 'What a household takes, against how many there are';
  return [
    '<!-- SPDX-License-Identifier: MIT. Drawn by tests/bench/speed/draw_growth.mjs. -->',
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${fixed(width)} ${fixed(height)}" role="img">`,
    `<title>${title}</title>`, `<style>${style}</style>`,
    `<rect class="paper" width="${fixed(width)}" height="${fixed(height)}"/>`,
    text(16, 30, 'start', 'title', title),
    ...panels.map((one, i) => `<g transform="translate(${fixed(left + i * (panel.width + gap))},${fixed(top)})">\n${drawn(one, runs, sizes)}\n</g>`),
    text(left, height - 14, 'start', 'small', 'Across: households, on a logarithmic scale. Dots: what was measured. Processor time is of one core.'),
    '</svg>', '',
  ].join('\n');
}
