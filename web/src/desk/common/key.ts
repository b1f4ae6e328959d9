// SPDX-License-Identifier: MIT

/// crypto.randomUUID wants a secure page; 128 random bits are the same thing without it.
export function new_key(): string {
  if (typeof crypto.randomUUID === "function") return crypto.randomUUID();
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, "0")).join("");
}
