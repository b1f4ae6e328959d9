// SPDX-License-Identifier: MIT
// The drawings of a side's history with uPlot, one above the other on one time axis: use seen against use expected, then
// the two charts of the surprise. Ink for what was seen, lamp for what is expected, a band for how sure; labels stand on
// the lines, so there is no legend to decode.
import "../first_view";
import uPlot from "uplot";
import { colours, pen_of, type Colours, type Pen } from "./pen";
import { ends_of, even_steps, type SidePoints } from "./side_points";
import { signed, signed_number } from "./words";
import { locale } from "../words/language";
import { tell } from "../words/catalogue/bench";

interface Drawing {
  height: number;
  columns: (number | null)[][];
  series: uPlot.Series[];
  bands?: uPlot.Band[];
  y_words: (value: number) => string;
  draw: (plot: uPlot, pen: Pen) => void;
  dates: boolean;
}

const hidden: uPlot.Series = { stroke: "transparent", points: { show: false }, spanGaps: true };
const line = (stroke: string, width = 2, dash?: number[]): uPlot.Series => ({ stroke, width, points: { show: false }, spanGaps: true, ...(dash && { dash }) });
const dots = (ink: string): uPlot.Series => ({ stroke: "transparent", paths: () => null, points: { show: true, size: 9, fill: ink, stroke: ink } });

function last_of(column: (number | null)[]): number {
  for (let index = column.length - 1; index >= 0; index--) if (column[index] !== null) return index;
  return -1;
}

/// A label on a line, a little above or below it: so far along, or where the line begins after that.
function on_line(pen: Pen, points: SidePoints, column: (number | null)[], words: string, share: number, above = true): void {
  const from = Math.min(Math.round(share * (column.length - 1)), last_of(column));
  const index = column.findIndex((one, at) => at >= from && one !== null);
  const value = column[index];
  if (value !== null && value !== undefined) pen.write(words, pen.x(points.at[index] ?? 0) + 6, pen.y(value) + (above ? -10 : 22));
}

function use_drawing(points: SidePoints, colour: Colours): Drawing {
  const { seen, seen_low, seen_high, expected, expected_low, expected_high } = points;
  return {
    height: 300, dates: false, y_words: signed,
    columns: [expected_low, expected, expected_high, seen, seen_low, seen_high],
    series: [hidden, line(colour.lamp, 3), hidden, dots(colour.ink), hidden, hidden],
    bands: [{ series: [3, 1], fill: colour.band }],
    draw: (_, pen) => {
      points.marks.forEach(({ at, words }, index) => pen.mark(at, words, index % 2));
      points.at.forEach((at, index) => {
        const [low, high] = [seen_low[index], seen_high[index]];
        if (low !== null && low !== undefined && high !== null && high !== undefined) pen.stroke(pen.x(at), pen.y(low), pen.x(at), pen.y(high), colour.ink, 1.5);
      });
      on_line(pen, points, expected, tell("bench.expected"), 0.18);
      const newest = last_of(seen);
      if (newest >= 0) pen.write_before(tell("bench.seen"), pen.x(points.at[newest] ?? 0) - 12, pen.y(seen[newest] ?? 0) + 5);
    },
  };
}

function ring_signals(pen: Pen, points: SidePoints, columns: (number | null)[][], signals: boolean[]): void {
  points.at.forEach((at, index) => {
    if (!signals[index]) return;
    const beyond = columns.map((column) => column[index] ?? 0).reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a), 0);
    pen.ring(pen.x(at), pen.y(beyond));
  });
}

function ewma_drawing(points: SidePoints, colour: Colours): Drawing {
  const { ewma, ewma_lower, ewma_upper } = points;
  return {
    height: 150, dates: false, y_words: signed_number,
    columns: [ewma_lower, ewma, ewma_upper],
    series: [line(colour.soft, 1.5, [5, 4]), { ...line(colour.ink, 2), points: { show: true, size: 6, fill: colour.ink, stroke: colour.ink } }, line(colour.soft, 1.5, [5, 4])],
    draw: (_, pen) => {
      points.marks.forEach(({ at }) => pen.mark(at, "", 0));
      on_line(pen, points, ewma_upper, tell("bench.limit"), 0.02);
      ring_signals(pen, points, [ewma], points.ewma_signal);
    },
  };
}

function cusum_drawing(points: SidePoints, colour: Colours): Drawing {
  const { cusum_high, cusum_low, cusum_limit } = points;
  const below = cusum_limit.map((one) => (one === null ? null : -one));
  const dotted = { ...line(colour.ink, 2), points: { show: true, size: 6, fill: colour.ink, stroke: colour.ink } };
  return {
    height: 180, dates: true, y_words: signed_number,
    columns: [cusum_high, cusum_low, cusum_limit, below],
    series: [dotted, { ...dotted, dash: [2, 3] }, line(colour.soft, 1.5, [5, 4]), line(colour.soft, 1.5, [5, 4])],
    draw: (_, pen) => {
      points.marks.forEach(({ at }) => pen.mark(at, "", 0));
      on_line(pen, points, cusum_limit, tell("bench.limit"), 0.02);
      on_line(pen, points, below, tell("bench.limit"), 0.02, false);
      on_line(pen, points, cusum_high, tell("bench.more_use"), 0.3);
      on_line(pen, points, cusum_low, tell("bench.less_use"), 0.3, false);
      ring_signals(pen, points, [cusum_high, cusum_low], points.cusum_signal);
    },
  };
}

function plot_in(place: HTMLElement, points: SidePoints, drawing: Drawing, colour: Colours, zone: string): uPlot {
  const { fontFamily, fontSize } = getComputedStyle(place);
  const face = `${fontSize} ${fontFamily}`;
  const axis = { stroke: colour.soft, font: face, grid: { stroke: colour.grid, width: 1 }, ticks: { show: false } };
  const month = new Intl.DateTimeFormat(locale(), { timeZone: zone, month: "short", year: "numeric" });
  const { low, high } = ends_of(drawing.columns);
  const newest = points.at.at(-1) ?? points.first + 1;
  const room = (newest - points.first) * 0.02;
  const dates = (_: uPlot, splits: number[]): string[] => splits.map((at) => (drawing.dates ? month.format(new Date(at * 1000)).replace("Sept", "Sep") : ""));
  const options: uPlot.Options = {
    width: place.clientWidth, height: drawing.height, legend: { show: false }, cursor: { show: false },
    tzDate: (at) => uPlot.tzDate(new Date(at * 1000), zone),
    scales: { x: { range: [points.first - room, newest + room] }, y: { range: [low, high] } },
    axes: [
      { ...axis, size: drawing.dates ? 34 : 8, gap: 10, space: 96, values: dates },
      { ...axis, size: 62, splits: () => even_steps(low, high, drawing.height > 200 ? 6 : 4), values: (_, splits) => splits.map(drawing.y_words) },
    ],
    series: [{}, ...drawing.series],
    ...(drawing.bands && { bands: drawing.bands }),
    hooks: { draw: [(plot) => drawing.draw(plot, pen_of(plot, colour))] },
  };
  return new uPlot(options, [points.at, ...drawing.columns] as uPlot.AlignedData, place);
}

/// Draws into the three places, again when their width or the colours change; returns what takes the drawings away.
export function draw_side(places: readonly [HTMLElement, HTMLElement, HTMLElement], points: SidePoints, zone: string): () => void {
  let plots: uPlot[] = [];
  const [first] = places;
  const draw = (): void => {
    plots.forEach((plot) => plot.destroy());
    const colour = colours(first);
    const drawings = [use_drawing, ewma_drawing, cusum_drawing].map((make) => make(points, colour));
    plots = places.map((place, index) => plot_in(place, points, drawings[index] as Drawing, colour, zone));
  };
  const widths = new ResizeObserver(() => {
    if (plots[0]?.width !== first.clientWidth) draw();
  });
  const themes = new MutationObserver(draw);
  const dark = matchMedia("(prefers-color-scheme: dark)");
  draw();
  widths.observe(first);
  themes.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
  dark.addEventListener("change", draw);
  return () => {
    widths.disconnect();
    themes.disconnect();
    dark.removeEventListener("change", draw);
    plots.forEach((plot) => plot.destroy());
  };
}
