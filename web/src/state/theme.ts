// SPDX-License-Identifier: MIT
// Light or dark: as the phone says, unless someone chose otherwise here.
import { kept } from "./kept";

export function theme(): "auto" | "light" | "dark" {
  const chosen = kept.get("theme");
  return chosen === "light" || chosen === "dark" ? chosen : "auto";
}

export function show_theme(): void {
  const chosen = theme();
  if (chosen === "auto") delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = chosen;
}

export function set_theme(chosen: string): void {
  kept.set("theme", chosen === "auto" ? null : chosen);
  show_theme();
}
