// SPDX-License-Identifier: MIT
// Which screen is open stands after the # of the address, so that the phone's own way back works:
// "#change", "#change?side=left" (only where a question named the side), "#more", "#entries".
import { useEffect, useMemo, useState } from "preact/hooks";

export interface Screen {
  name: string;
  given: Record<string, string>;
}

function read_screen(hash: string): Screen {
  const [name = "", query = ""] = hash.slice(1).split("?");
  return { name, given: Object.fromEntries(new URLSearchParams(query)) };
}

/// Told at once: the browser's own word of it comes a task later, and the screen that is left would be drawn once more.
function tell_watchers(): void {
  window.dispatchEvent(new Event("hashchange"));
}

export function open_screen(name: string, given: Record<string, string> = {}): void {
  const query = new URLSearchParams(given).toString();
  window.location.hash = query ? `${name}?${query}` : name;
  tell_watchers();
}

/// In place of the screen that is open: the phone's way back does not lead to it again.
export function open_instead(name: string): void {
  window.history.replaceState(null, "", `#${name}`);  // nothing is to be scrolled to, as location.replace() would
  tell_watchers();
}

export function useScreen(): Screen {
  const [hash, set] = useState(window.location.hash);
  useEffect(() => {
    const changed = (): void => set(window.location.hash);
    window.addEventListener("hashchange", changed);
    return () => window.removeEventListener("hashchange", changed);
  }, []);
  return useMemo(() => read_screen(hash), [hash]);
}
