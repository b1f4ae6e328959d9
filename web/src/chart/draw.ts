// SPDX-License-Identifier: MIT
// The drawing of the range chart with uPlot. Ink for what was seen, lamp for what is expected, a band for how
// sure; the labels stand on the lines, so there is no legend to decode.
import "../first_view";
import uPlot from "uplot";
import type { Chart } from "../api/types";
import { date_format } from "../time/formats";
import { locale } from "../words/language";
import { tell } from "../words/catalogue/first";

interface Colours {
  ink: string;
  soft: string;
  lamp: string;
  band: string;
  grid: string;
}

function colours(place: HTMLElement): Colours {
  const style = getComputedStyle(place);
  const token = (name: string): string => style.getPropertyValue(`--${name}`).trim();
  return { ink: token("ink"), soft: token("soft"), lamp: token("lamp-line"), band: token("band"), grid: token("hair") };
}

const seconds = (at: string): number => Date.parse(at) / 1000;

/// One time axis for both: the expected points and the readings, joined and sorted.
function columns(chart: Chart): uPlot.AlignedData {
  const rows = [
    ...chart.points.map((point) => [seconds(point.at), point.p05, point.p50, point.p95, null] as const),
    ...chart.readings.filter((one) => one.percent !== null).map((one) => [seconds(one.at), null, null, null, one.percent] as const),
  ].sort((a, b) => a[0] - b[0]);
  return [0, 1, 2, 3, 4].map((column) => rows.map((row) => row[column] ?? null)) as unknown as uPlot.AlignedData;
}

/// Where a label may stand on the expected line: a third of the way along.
function label_point(chart: Chart): Chart["points"][number] | undefined {
  return chart.points[Math.floor(chart.points.length / 3)];
}

function labels(chart: Chart, colour: Colours, now: Date): (plot: uPlot) => void {
  return (plot) => {
    const { ctx } = plot;
    const scale = devicePixelRatio;
    const { fontFamily, fontSize } = getComputedStyle(plot.root);
    const letter_px = parseFloat(fontSize);
    ctx.save();
    ctx.textAlign = "left";
    ctx.textBaseline = "alphabetic";
    ctx.font = `600 ${letter_px * scale}px ${fontFamily}`;
    const write = (text: string, x: number, y: number, fill: string): void => {
      const width = ctx.measureText(text).width;
      const left = Math.min(Math.max(x, plot.bbox.left), plot.bbox.left + plot.bbox.width - width);
      ctx.fillStyle = fill;
      ctx.fillText(text, left, y);
    };
    const rule = (x1: number, y1: number, x2: number, y2: number): void => {
      ctx.strokeStyle = colour.soft;
      ctx.lineWidth = scale;
      ctx.setLineDash([4 * scale, 4 * scale]);
      ctx.beginPath();
      ctx.moveTo(x1, y1);
      ctx.lineTo(x2, y2);
      ctx.stroke();
      ctx.setLineDash([]);
    };
    const { left, top, width, height } = plot.bbox;
    const on_line = label_point(chart);
    if (on_line) {
      write(tell("draw.expected"), plot.valToPos(seconds(on_line.at), "x", true) + 10 * scale, plot.valToPos(on_line.p50, "y", true) - 10 * scale, colour.ink);
    }
    if (chart.warning_percent) {
      const y = plot.valToPos(chart.warning_percent, "y", true);
      rule(left, y, left + width, y);
      write(tell("draw.the_unit_warns"), left + 4 * scale, y - 6 * scale, colour.ink);
    }
    const x_now = plot.valToPos(now.getTime() / 1000, "x", true);
    if (x_now > left && x_now < left + width) {
      rule(x_now, top, x_now, top + height);
      write(tell("draw.now"), x_now + 5 * scale, top + 16 * scale, colour.ink);
    }
    const seen = chart.readings.filter((one) => one.percent !== null).at(-1);
    if (seen) {
      const before = ctx.measureText(tell("draw.seen")).width + 8 * scale;
      write(tell("draw.seen"), plot.valToPos(seconds(seen.at), "x", true) - before, plot.valToPos(seen.percent ?? 0, "y", true) + 20 * scale, colour.ink);
    }
    ctx.restore();
  };
}

function options(place: HTMLElement, chart: Chart, zone: string, now: Date): uPlot.Options {
  const colour = colours(place);
  const { fontFamily, fontSize } = getComputedStyle(place);
  const letter_px = parseFloat(fontSize);
  const face = `${fontSize} ${fontFamily}`;
  const axis = { stroke: colour.soft, font: face, grid: { stroke: colour.grid, width: 1 }, ticks: { show: false } };
  const day = date_format(locale(), { timeZone: zone, day: "numeric", month: "short" });
  return {
    width: place.clientWidth,
    height: place.clientHeight,
    tzDate: (at) => uPlot.tzDate(new Date(at * 1000), zone),
    legend: { show: false },
    cursor: { show: false },
    scales: { y: { range: [0, 105] } },
    axes: [
      { ...axis, gap: 12, size: 20 + 2 * letter_px, space: 5 * letter_px, values: (_, splits) => splits.map((at) => day.format(new Date(at * 1000))), incrs: [1, 2, 3, 7, 14, 28].map((days) => days * 86_400) },
      { ...axis, size: 12 + 3 * letter_px, splits: () => [0, 25, 50, 75, 100], values: (_, splits) => splits.map((value) => `${value} %`) },
    ],
    series: [
      {},
      { stroke: "transparent", points: { show: false }, spanGaps: true },
      { stroke: colour.lamp, width: 3, points: { show: false }, spanGaps: true },
      { stroke: "transparent", points: { show: false }, spanGaps: true },
      { stroke: "transparent", paths: () => null, points: { show: true, size: 9, fill: colour.ink, stroke: colour.ink } },
    ],
    bands: [{ series: [3, 1], fill: colour.band }],
    hooks: { draw: [labels(chart, colour, now)] },
  };
}

/// Draws into `place`, again when its width or the colours change; returns what takes the drawing away.
export function draw_range(place: HTMLElement, chart: Chart, zone: string, now: Date): () => void {
  let plot: uPlot | null = null;
  const draw = (): void => {
    plot?.destroy();
    plot = new uPlot(options(place, chart, zone, now), columns(chart), place);
  };
  const widths = new ResizeObserver(() => {
    if (plot && plot.width !== place.clientWidth) draw();
  });
  const themes = new MutationObserver(draw);
  const dark = matchMedia("(prefers-color-scheme: dark)");
  draw();
  widths.observe(place);
  themes.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
  dark.addEventListener("change", draw);
  return () => {
    widths.disconnect();
    themes.disconnect();
    dark.removeEventListener("change", draw);
    plot?.destroy();
  };
}
