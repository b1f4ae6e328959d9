// SPDX-License-Identifier: MIT
// What is to be done comes first, though sides keep their places: where the lower card alone asks for a change, a line on
// top says so; where its sentence lies below the first screen (large text, a small phone), a line a side. Each is a link
// to its card.
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Forecast } from "../api/types";
import type { Desk } from "../state/desk";
import { is_old, lines_of, type Line } from "../state/side_view";
import { side_name } from "../words/names";
import { DisclaimerHere } from "./foot";
import { tell } from "../words/catalogue/first";

const bar_height = (): number => {
  const bar = document.querySelector<HTMLElement>(".foot, [data-large-text] .help");
  return bar?.offsetHeight ?? 0;
};

/// Whether all sentences are on the first screen, were this overview not there. Null while something is open in a
/// card: nothing moves unless the person moved it.
function all_in_sight(own_height: number): boolean | null {
  if (document.querySelector("[data-side] [aria-expanded=true]")) return null;
  const ends = [...document.querySelectorAll("[data-side]")].map((card) => [...card.querySelectorAll(".sentence, .said_then")].at(-1)?.getBoundingClientRect().bottom ?? 0);
  return Math.max(...ends) + window.scrollY - own_height <= window.innerHeight - bar_height();
}

function go_to(line: Line, event: Event): void {
  event.preventDefault();
  const heading = document.getElementById(`${line.side}-name`);
  heading?.focus({ preventScroll: true });
  heading?.scrollIntoView({ block: "start" });
}

export function Overview({ desk, forecast }: { desk: Desk; forecast: Forecast }) {
  const place = useRef<HTMLElement>(null);
  const [needed, set_needed] = useState(false);
  const { waiting, now, recorded, signal, problem, refusals, session } = desk.value;
  useLayoutEffect(() => {
    const measure = (): void => {
      const seen = all_in_sight(place.current?.offsetHeight ?? 0);
      if (seen !== null) set_needed(!seen);
    };
    measure();
    const bar = document.querySelector(".help");
    const sizes = new ResizeObserver(measure);
    if (bar) sizes.observe(bar);
    window.addEventListener("resize", measure);
    return () => {
      sizes.disconnect();
      window.removeEventListener("resize", measure);
    };
  }, [forecast, waiting, recorded, signal, problem, refusals, session, is_old(forecast, now)]);  // whatever moves the sentences
  const lines = lines_of(forecast, waiting, now);
  const shown = needed ? lines : lines.filter((line) => line.side === "right" && line.act && lines.every((one) => one === line || !one.act));
  if (!shown.length) return null;
  return (
    <nav class={needed ? "overview" : "overview first"} ref={place} aria-label={tell(needed ? "overview.both_sides_in_short" : "overview.to_do_first")}>
      {shown.map((line) => (
        <a class={line.act ? "urgent" : undefined} key={line.side} href={`#${line.side}-name`} onClick={(event) => go_to(line, event)}>
          {`${side_name[line.side]}: ${line.words}`}
        </a>
      ))}
      {needed && <DisclaimerHere />}
    </nav>
  );
}
