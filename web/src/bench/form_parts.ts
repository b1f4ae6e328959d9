// SPDX-License-Identifier: MIT
// What the bench's forms share: numbers as people type them, and the service's objections beside their fields.
import type { FieldError } from "../api/types";

/// "3,5" is 3.5. What is no number stays as it was typed, so that the service names it; nothing is nothing.
export function number_of(text: string): number | string | undefined {
  const plain = text.trim().replace(",", ".");
  if (!plain) return undefined;
  const value = Number(plain);
  return Number.isFinite(value) ? value : text.trim();
}

export function error_at(errors: readonly FieldError[]): (place: string) => string | undefined {
  return (place) => errors.find((one) => one.place === place || one.place.startsWith(`${place}/`))?.reason;
}
