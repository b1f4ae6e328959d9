// SPDX-License-Identifier: MIT
// A probability in words. Figures below 1 in 10 000 rest on assumptions about tails and are never shown;
// everything else is rounded so that the risk is never made smaller than it was computed.

const smallest_words = "less than 1\u00a0in\u00a010\u00a0000";

function grouped(n: number): string {
  return String(n).replace(/\B(?=(\d{3})+$)/g, "\u00a0");
}

function rounded_down(n: number): number {
  const step = n < 20 ? 1 : 10 ** Math.floor(Math.log10(n));
  return Math.floor(n / step) * step;
}

export function odds_words(risk: number): string {
  if (!Number.isFinite(risk)) return "not known";
  if (risk < 1e-4) return smallest_words;
  if (risk > 0.99) return "more than 99\u00a0in\u00a0100";
  if (risk >= 0.1) return `about ${Math.ceil(risk * 100 - 1e-9)}\u00a0in\u00a0100`;
  return `about 1\u00a0in\u00a0${grouped(rounded_down(1 / risk + 1e-9))}`;
}
