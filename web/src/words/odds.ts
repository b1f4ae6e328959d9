// SPDX-License-Identifier: MIT
// A probability in words. Figures below 1 in 10 000 rest on assumptions about tails and are never shown;
// everything else is rounded so that the risk is never made smaller than it was computed.
import { tell } from "./catalogue/first";

const smallest_words = tell("odds.less_than_1_in_10_000");

function grouped(n: number): string {
  return String(n).replace(/\B(?=(\d{3})+$)/g, "\u00a0");
}

function rounded_down(n: number): number {
  const step = n < 20 ? 1 : 10 ** Math.floor(Math.log10(n));
  return Math.floor(n / step) * step;
}

export function odds_words(risk: number): string {
  if (!Number.isFinite(risk)) return tell("odds.not_known");
  if (risk < 1e-4) return smallest_words;
  if (risk > 0.99) return tell("odds.more_than_99_in_100");
  if (risk >= 0.1) return tell("odds.about_in_100", { count: Math.ceil(risk * 100 - 1e-9) });
  return tell("odds.about_1_in", { grouped: grouped(rounded_down(1 / risk + 1e-9)) });
}
