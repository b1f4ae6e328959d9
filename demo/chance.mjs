// SPDX-License-Identifier: MIT
// Chance from a seed, so that the same seed tells the same story (a 32-bit mixing generator, "mulberry32").

export function chance(seed) {
  let state = seed >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  const between = (low, high) => low + (high - low) * uniform();
  const normal = (sd) => sd * Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, between, normal, happens: (probability) => uniform() < probability };
}
