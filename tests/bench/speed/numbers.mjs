// SPDX-License-Identifier: MIT
// What is made of many measurements.
const sorted = (values) => [...values].sort((a, b) => a - b);

/** The middle one; of an even number of values the upper of the two in the middle. */
export const median = (values) => sorted(values)[Math.floor(values.length / 2)];

/** The least value that at least this share of them does not exceed (nearest rank). */
export const quantile = (values, share) => sorted(values)[Math.max(0, Math.ceil(share * values.length) - 1)];
