// SPDX-License-Identifier: MIT
// Where on the desks someone is: "#bench/finding?id=7" is the page "finding" of the section "bench". Every page has an
// address, so that it can be kept, sent to a colleague, opened beside another, and left by the browser's way back.
import { useScreen } from "../state/screen";

export interface Place {
  section: string;
  /// Empty: the section's first page.
  page: string;
  given: Record<string, string>;
}

export function usePlace(): Place {
  const { name, given } = useScreen();
  const [section = "", page = ""] = name.split("/");
  return { section, page, given };
}

/// For an <a href>: `to("bench/finding", { id })`. What is empty is left out.
export function to(name: string, given: Record<string, string | null | undefined> = {}): string {
  const filled = Object.entries(given).filter((pair): pair is [string, string] => Boolean(pair[1]));
  const query = new URLSearchParams(filled).toString();
  return `#${query ? `${name}?${query}` : name}`;
}

export function go(name: string, given: Record<string, string | null | undefined> = {}): void {
  window.location.hash = to(name, given);
}

/// The same page with something else chosen on it: no further step for the way back.
export function choose(name: string, given: Record<string, string | null | undefined>): void {
  window.location.replace(to(name, given));
}
