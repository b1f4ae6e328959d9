// SPDX-License-Identifier: MIT
// A long list of which only the rows near the screen are drawn. Rows come in blocks; a block that was drawn once keeps
// its measured height, others count as high as those are on average, so rows may be of any height and text of any size.
import type { ComponentChildren } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";

interface Props<T> {
  rows: readonly T[];
  row: (one: T, index: number) => ComponentChildren;
}

const block_rows = 8;
const guess_px = 60 * block_rows;
const margin_px = 240;

class Heights {
  private readonly known = new Map<number, number>();

  learn(block: number, height: number): boolean {
    if (Math.abs((this.known.get(block) ?? 0) - height) < 1) return false;
    this.known.set(block, height);
    return true;
  }

  of(block: number): number {
    return this.known.get(block) ?? this.usual();
  }

  private usual(): number {
    if (!this.known.size) return guess_px;
    let sum = 0;
    for (const height of this.known.values()) sum += height;
    return sum / this.known.size;
  }
}

interface Range {
  from: number;
  to: number;
  above: number;
  below: number;
}

/// The blocks that reach into the screen, with what lies above and below them.
export function range_of(blocks: number, height: (block: number) => number, top: number, bottom: number): Range {
  const range: Range = { from: 0, to: 0, above: 0, below: 0 };
  let y = 0;
  for (let block = 0; block < blocks; block++) {
    const next = y + height(block);
    if (next < top) {
      range.from = block + 1;
      range.above = next;
    } else if (y <= bottom) range.to = block + 1;
    else range.below += next - y;
    y = next;
  }
  if (range.from >= blocks && blocks > 0) return { ...range, from: blocks - 1, to: blocks, above: range.above - height(blocks - 1) };
  return { ...range, to: Math.max(range.to, Math.min(range.from + 1, blocks)) };
}

export function Windowed<T>({ rows, row }: Props<T>) {
  const place = useRef<HTMLDivElement>(null);
  const heights = useRef(new Heights());
  const [, redraw] = useState(0);
  const blocks = Math.ceil(rows.length / block_rows);
  const seen = useRef({ top: 0, bottom: 1_200 });
  const look = (): boolean => {
    if (!place.current) return false;
    const top = -place.current.getBoundingClientRect().top;
    const before = seen.current;
    seen.current = { top: top - margin_px, bottom: top + window.innerHeight + margin_px };
    return Math.abs(before.top - seen.current.top) > margin_px / 2 || before.bottom - before.top !== seen.current.bottom - seen.current.top;
  };
  useEffect(() => {
    let asked = 0;
    const moved = (): void => {
      cancelAnimationFrame(asked);
      asked = requestAnimationFrame(() => look() && redraw((n) => n + 1));
    };
    document.addEventListener("scroll", moved, { capture: true, passive: true });
    window.addEventListener("resize", moved);
    return () => {
      cancelAnimationFrame(asked);
      document.removeEventListener("scroll", moved, { capture: true });
      window.removeEventListener("resize", moved);
    };
  }, []);
  const height_of = (block: number): number => heights.current.of(block);
  const range = range_of(blocks, height_of, seen.current.top, seen.current.bottom);
  useLayoutEffect(() => {
    let learned = false;
    for (const one of place.current?.querySelectorAll<HTMLElement>("[data-block]") ?? []) {
      const block = Number(one.dataset["block"]);
      if ((block + 1) * block_rows <= rows.length && heights.current.learn(block, one.offsetHeight)) learned = true;
    }
    look();
    // Drawn anew only where that shows other rows: below them, heights wait for the next scroll.
    const next = range_of(blocks, height_of, seen.current.top, seen.current.bottom);
    if (next.from !== range.from || next.to !== range.to || (learned && range.from > 0)) redraw((n) => n + 1);
  }, [range.from, range.to, rows]);
  const drawn = Array.from({ length: range.to - range.from }, (_, index) => range.from + index);
  return (
    <div ref={place} class="windowed" role="presentation">
      <div style={{ height: `${range.above}px` }} role="presentation" />
      {drawn.map((block) => (
        <div key={block} data-block={block} role="rowgroup">
          {rows.slice(block * block_rows, (block + 1) * block_rows).map((one, index) => row(one, block * block_rows + index))}
        </div>
      ))}
      <div style={{ height: `${range.below}px` }} role="presentation" />
    </div>
  );
}
