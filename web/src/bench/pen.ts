// SPDX-License-Identifier: MIT
// What the bench's drawings write on their lines: words, marks of changes, rings round signals.
import type uPlot from "uplot";

export interface Colours {
  ink: string;
  soft: string;
  lamp: string;
  band: string;
  grid: string;
  card: string;
}

/// A canvas takes no names of system colours that forced colours put into the tokens, so each is asked for as a colour.
export function colours(place: HTMLElement): Colours {
  const probe = document.createElement("span");
  probe.style.setProperty("forced-color-adjust", "none");
  place.append(probe);
  const token = (name: string): string => {
    probe.style.color = `var(--${name})`;
    return getComputedStyle(probe).color;
  };
  const found = { ink: token("ink"), soft: token("soft"), lamp: token("lamp-line"), band: token("band"), grid: token("hair"), card: token("card") };
  probe.remove();
  return found;
}

export interface Pen {
  /// In the canvas' own pixels.
  x: (at: number) => number;
  y: (value: number) => number;
  write: (text: string, x: number, y: number) => void;
  /// Ends at x.
  write_before: (text: string, x: number, y: number) => void;
  stroke: (x1: number, y1: number, x2: number, y2: number, colour: string, width: number) => void;
  /// Where something changed: a dashed upright, its words on top, in the first row or the second.
  mark: (at: number, words: string, row: number) => void;
  ring: (x: number, y: number) => void;
}

export function pen_of(plot: uPlot, colour: Colours): Pen {
  const { ctx, bbox } = plot;
  const scale = devicePixelRatio;
  const face = getComputedStyle(plot.root).fontFamily;
  const text_at = (text: string, x: number, y: number, size = 15, weight = 600): void => {
    ctx.save();
    ctx.font = `${weight} ${size * scale}px ${face}`;
    const width = ctx.measureText(text).width;
    const left = Math.min(Math.max(x, bbox.left), bbox.left + bbox.width - width);
    const line = Math.min(Math.max(y, bbox.top + size * scale), bbox.top + bbox.height - 3 * scale);
    ctx.lineWidth = 4 * scale;
    ctx.setLineDash([]);
    ctx.lineJoin = "round";
    ctx.strokeStyle = colour.card;
    ctx.fillStyle = colour.ink;
    ctx.textAlign = "left";
    ctx.strokeText(text, left, line);
    ctx.fillText(text, left, line);
    ctx.restore();
  };
  const width_of = (text: string): number => {
    ctx.save();
    ctx.font = `600 ${15 * scale}px ${face}`;
    const { width } = ctx.measureText(text);
    ctx.restore();
    return width;
  };
  const stroke = (x1: number, y1: number, x2: number, y2: number, stroke_colour: string, width: number, dash: number[] = []): void => {
    ctx.save();
    ctx.strokeStyle = stroke_colour;
    ctx.lineWidth = width * scale;
    ctx.setLineDash(dash.map((one) => one * scale));
    ctx.beginPath();
    ctx.moveTo(x1, y1);
    ctx.lineTo(x2, y2);
    ctx.stroke();
    ctx.restore();
  };
  return {
    x: (at) => plot.valToPos(at, "x", true),
    y: (value) => plot.valToPos(value, "y", true),
    write: (text, x, y) => text_at(text, x, y),
    write_before: (text, x, y) => text_at(text, x - width_of(text), y),
    stroke,
    mark: (at, words, row) => {
      const x = plot.valToPos(at, "x", true);
      stroke(x, bbox.top, x, bbox.top + bbox.height, colour.soft, 1, [3, 4]);
      if (words) text_at(words, x + 4 * scale, bbox.top + (14 + 17 * row) * scale, 14, 400);
    },
    ring: (x, y) => {
      ctx.save();
      ctx.strokeStyle = colour.ink;
      ctx.lineWidth = 2 * scale;
      ctx.setLineDash([]);
      ctx.beginPath();
      ctx.arc(x, y, 8 * scale, 0, 2 * Math.PI);
      ctx.stroke();
      ctx.restore();
    },
  };
}
