// SPDX-License-Identifier: MIT
// Invented numbers that are the same on every run.

/// Numerical Recipes' linear congruential generator: from 0 up to 1.
export function chance(seed) {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

const day_ms = 86_400_000;
export const day = (now, days) => new Date(Math.floor(now.getTime() / day_ms) * day_ms + days * day_ms).toISOString().slice(0, 10);

/// A time as the service tells it: by the clock at home (in winter, an hour before UTC).
export const told = (at) => `${new Date(at.getTime() + 3_600_000).toISOString().slice(0, 19)}+01:00`;
