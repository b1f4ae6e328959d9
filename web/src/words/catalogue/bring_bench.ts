// SPDX-License-Identifier: MIT
// The bench's words in another language, fetched before any page of the bench is evaluated. Where they cannot be had the
// bench speaks English.
import { add_words, language } from "../language";

export async function bring_words(): Promise<void> {
  if (language() === "es") await import("./es_bench").then(({ catalogue }) => add_words(catalogue), () => undefined);
}
