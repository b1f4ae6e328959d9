// SPDX-License-Identifier: MIT
// What a limit of risk costs: sets a year against the limit, a line for each number of changing times a day with its band,
// the name beside the line's end. Ink marks where the agency stands now. The same figures stand in a table.
import type { CurvePoint, RiskCurve } from "../lot_types";
import { range } from "./costs";
import { spread, width_em, with_room } from "./labels";
import { useSize, type Size } from "./use_size";

/// Around the lines, in ems: figures to the left, what is meant above and below. Names, to the right, take what they need.
const around = { left: 4.6, top: 3.3, bottom: 3.6 };
const beside_line = 0.8;
const height_of_width = 0.6;
const least_height_em = 19;
const wide_em = 26;
const row_em = 1.4;

interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
  width: number;
  height: number;
  em: number;
  /// "once a day" has room beside its line; otherwise "once", with "a day" under all of them.
  is_wide: boolean;
}

interface Scale {
  box: Box;
  x: (risk: number) => number;
  y: (sets: number) => number;
  sets: number[];
  risks: number[];
}

function box_of({ width, em }: Size, most_times: number): Box {
  const is_wide = width > wide_em * em;
  const right = beside_line + width_em(names(most_times, is_wide), "bold");
  const height = Math.max(width * height_of_width, least_height_em * em);
  return { left: around.left * em, right: width - right * em, top: around.top * em, bottom: height - around.bottom * em, width, height, em, is_wide };
}

export function nice_step(span: number, parts: number): number {
  const rough = span / parts;
  const ten = 10 ** Math.floor(Math.log10(rough));
  return [1, 2, 2.5, 5, 10].map((one) => one * ten).find((one) => one >= rough) ?? rough;
}

function scale_of({ points, now }: RiskCurve, box: Box): Scale {
  const sets = [...points.flatMap((one) => [one.sets_a_year.p05, one.sets_a_year.p95]), now.sets_a_year];
  const risks = points.map((one) => one.risk_limit);
  const step = nice_step(Math.max(...sets) - Math.min(...sets) || 1, 5);
  const bottom = Math.floor(Math.min(...sets) / step) * step;
  const top = Math.ceil(Math.max(...sets) / step) * step;
  const [from, to] = [Math.log10(Math.min(...risks)), Math.log10(Math.max(...risks))];
  const marks = Array.from({ length: Math.round((top - bottom) / step) + 1 }, (_, index) => bottom + index * step);
  const decades = Array.from({ length: Math.floor(to + 1e-9) - Math.ceil(from - 1e-9) + 1 }, (_, index) => 10 ** (Math.ceil(from - 1e-9) + index));
  return {
    box,
    x: (risk) => box.left + ((Math.log10(risk) - from) / (to - from || 1)) * (box.right - box.left),
    y: (value) => box.bottom - ((value - bottom) / (top - bottom || 1)) * (box.bottom - box.top),
    sets: marks, risks: decades,
  };
}

const grouped = (n: number): string => String(Math.round(n)).replace(/\B(?=(\d{3})+$)/g, "\u00a0");
const odds = (risk: number): string => `1 in ${grouped(1 / risk)}`;
const times = (n: number): string => (n === 1 ? "once a day" : n === 2 ? "twice a day" : `${n} times a day`);

const names = (n: number, is_wide: boolean): string => (is_wide ? times(n) : times(n).replace(" a day", ""));

function by_times(points: readonly CurvePoint[]): [number, CurvePoint[]][] {
  const found = new Map<number, CurvePoint[]>();
  for (const one of [...points].sort((a, b) => a.risk_limit - b.risk_limit)) found.set(one.changing_times, [...(found.get(one.changing_times) ?? []), one]);
  return [...found];
}

function Line({ points, n, scale }: { points: CurvePoint[]; n: number; scale: Scale }) {
  const at = (one: CurvePoint, sets: number): string => `${scale.x(one.risk_limit).toFixed(1)} ${scale.y(sets).toFixed(1)}`;
  const along = (say: (one: CurvePoint) => number, from: CurvePoint[]): string => from.map((one) => at(one, say(one))).join("L");
  const band = `M${along((one) => one.sets_a_year.p95, points)}L${along((one) => one.sets_a_year.p05, [...points].reverse())}Z`;
  return (
    <>
      <path class="sure" d={band} />
      <path class={`expected line-${n}`} d={`M${along((one) => one.sets_a_year.p50, points)}`} />
    </>
  );
}

/// Beside the ends of their lines, pushed apart where those come close; a hair leads from each line to its name.
function Names({ lines, scale }: { lines: readonly [number, CurvePoint[]][]; scale: Scale }) {
  const { box, y } = scale;
  const ends = lines.flatMap(([n, points]) => points.slice(-1).map((one) => ({ n, end: y(one.sets_a_year.p50) })));
  const row = row_em * box.em;
  const x = box.right + beside_line * box.em;
  const places = spread(ends.map((one) => one.end), row, box.top + row, box.bottom - (box.is_wide ? 0 : row));
  const baseline = (at: number): number => at + 0.35 * box.em;
  return (
    <>
      <text x={x} y={baseline(Math.min(...places) - row)}>changed</text>
      {!box.is_wide && <text x={x} y={baseline(Math.max(...places) + row)}>a day</text>}
      {ends.map(({ n, end }, index) => {
        const at = places[index] ?? end;
        return (
          <g key={n}>
            <path class="axis" d={`M${box.right} ${end}L${box.right + 0.6 * box.em} ${at}`} />
            <text class="on-line" x={x} y={baseline(at)}>{names(n, box.is_wide)}</text>
          </g>
        );
      })}
    </>
  );
}

/// Above the lines, on the rule of the limit that holds now.
function Now({ now, scale: { box, x, y } }: { now: RiskCurve["now"]; scale: Scale }) {
  const words = `now: ${grouped(now.sets_a_year)}`;
  const at = x(now.risk_limit);
  const half = (width_em(words, "bold") * box.em) / 2;
  return (
    <>
      <path class="rule" d={`M${at} ${box.top - 0.6 * box.em}V${box.bottom}`} />
      <circle class="seen" cx={at} cy={y(now.sets_a_year)} r="7" />
      <text class="on-line" x={Math.min(Math.max(at, half), box.width - half)} y={box.top - box.em} text-anchor="middle">{words}</text>
    </>
  );
}

function Drawing({ curve, size }: { curve: RiskCurve; size: Size }) {
  const lines = by_times(curve.points);
  const box = box_of(size, Math.max(...lines.map(([n]) => n)));
  const scale = scale_of(curve, box);
  return (
    <svg class="drawing" width={box.width} height={box.height} viewBox={`0 0 ${box.width} ${box.height}`} role="img" aria-label="Sets a year against the limit of risk, a line for each number of changing times a day. The table below has the figures.">
      {scale.sets.map((sets) => (
        <g key={sets}>
          <path class="hair" d={`M${box.left} ${scale.y(sets)}H${box.right}`} />
          <text x={box.left - 0.5 * box.em} y={scale.y(sets) + 0.35 * box.em} text-anchor="end">{grouped(sets)}</text>
        </g>
      ))}
      {with_room(scale.risks.map((risk) => ({ at: scale.x(risk), words: odds(risk) })), box.em).map(({ at, words }) => (
        <text key={words} x={at} y={box.bottom + 1.5 * box.em} text-anchor="middle">{words}</text>
      ))}
      {lines.map(([n, points]) => <Line key={n} n={n} points={points} scale={scale} />)}
      <Names lines={lines} scale={scale} />
      <Now now={curve.now} scale={scale} />
      <text x={box.width} y={box.bottom + 3.1 * box.em} text-anchor="end">limit of risk, a changing time</text>
      <text x="0" y={0.9 * box.em}>sets a year</text>
    </svg>
  );
}

function Table({ curve }: { curve: RiskCurve }) {
  return (
    <details>
      <summary>The same as a table</summary>
      <table class="numbers">
        <thead>
          <tr>
            <th scope="col">Limit of risk</th>
            <th scope="col">Changed</th>
            <th scope="col">Sets a year</th>
            <th scope="col">Charge left</th>
          </tr>
        </thead>
        <tbody>
          {curve.points.map((one) => (
            <tr key={`${one.changing_times} ${one.risk_limit}`}>
              <th scope="row">{odds(one.risk_limit)}</th>
              <td>{times(one.changing_times)}</td>
              <td>{range(one.sets_a_year, grouped, "")}</td>
              <td>{`${Math.round(one.charge_left_share * 100)} %`}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

export function Curve({ curve }: { curve: RiskCurve }) {
  const { frame, size } = useSize();
  if (!curve.points.length) return <p>There is nothing to draw yet.</p>;
  return (
    <>
      <div class="drawn" ref={frame}>{size && <Drawing curve={curve} size={size} />}</div>
      <Table curve={curve} />
    </>
  );
}
