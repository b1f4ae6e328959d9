// SPDX-License-Identifier: MIT
// Which screen is open stands after the # of the address, so that the phone's own way back works:
// "#change", "#change?side=left" (only where a question named the side), "#more", "#entries".
import { useEffect, useState } from "preact/hooks";

export interface Screen {
  name: string;
  given: Record<string, string>;
}

function read_screen(): Screen {
  const [name = "", query = ""] = window.location.hash.slice(1).split("?");
  return { name, given: Object.fromEntries(new URLSearchParams(query)) };
}

export function open_screen(name: string, given: Record<string, string> = {}): void {
  const query = new URLSearchParams(given).toString();
  window.location.hash = query ? `${name}?${query}` : name;
}

export function useScreen(): Screen {
  const [screen, set] = useState(read_screen);
  useEffect(() => {
    const changed = (): void => set(read_screen());
    window.addEventListener("hashchange", changed);
    return () => window.removeEventListener("hashchange", changed);
  }, []);
  return screen;
}
