// SPDX-License-Identifier: MIT
// A round as a street: a house for every stop, a bare plot for every stop it could still make. An outline is planned, a
// black house confirmed, a lit one has received, a dashed one with a cross has not or has not answered. The count stands
// beside it in figures.

export type House = "planned" | "confirmed" | "received" | "without" | "plot";

const names: Record<House, string> = { planned: "planned", confirmed: "confirmed", received: "received", without: "without an answer", plot: "free" };
const order: readonly House[] = ["received", "without", "confirmed", "planned", "plot"];
const step = 16;
const line = 21;
const scale = 1.3;
const most = 120;

function shape(house: House, x: number, y: number): string {
  if (house === "plot") return `M${x + 2} ${y + 17}h10`;
  const outline = `M${x + 1.5} ${y + 17}v-9l5.5-6l5.5 6v9z`;
  return house === "without" ? `${outline}M${x + 5} ${y + 9}l4 5m0-5l-4 5` : outline;
}

export function street_words(houses: readonly House[]): string {
  return order.map((kind) => ({ kind, n: houses.filter((one) => one === kind).length })).filter(({ n }) => n > 0).map(({ kind, n }) => `${n} ${names[kind]}`).join(", ");
}

/// Above `most` a drawing tells no more than the figure beside it.
export function Street({ houses, wide = 20 }: { houses: readonly House[]; wide?: number }) {
  if (!houses.length || houses.length > most) return null;
  const sorted = order.flatMap((kind) => houses.filter((one) => one === kind));
  const rows = Math.ceil(sorted.length / wide);
  const width = Math.min(sorted.length, wide) * step;
  const paths = order.map((kind) => ({ kind, d: sorted.map((one, index) => (one === kind ? shape(one, (index % wide) * step, Math.floor(index / wide) * line) : "")).join("") }));
  return (
    <svg class="street" viewBox={`0 0 ${width} ${rows * line}`} width={width * scale} height={rows * line * scale} role="img" aria-label={street_words(houses)}>
      {paths.filter(({ d }) => d).map(({ kind, d }) => <path key={kind} class={`house-${kind}`} d={d} />)}
    </svg>
  );
}

export function StreetKey() {
  return (
    <p class="street-key">
      {(["planned", "confirmed", "received", "without", "plot"] as const).map((kind) => (
        <span key={kind}>
          <svg class="street" viewBox={`0 0 ${step} ${line}`} width={step * scale} height={line * scale} aria-hidden="true">
            <path class={`house-${kind}`} d={shape(kind, 0, 0)} />
          </svg>
          {kind === "plot" ? "room for one more" : names[kind]}
        </span>
      ))}
    </p>
  );
}
