// SPDX-License-Identifier: MIT
// What another phone records is shown at once: while this page is seen, the service tells it the number of the newest
// entry (server-sent events). Where it cannot, the page asks every minute, as it does anyway.
import { household_path } from "../api/client";

const again_ms = 60_000;

export function listen(household: string, heard: (entry: number) => void): () => void {
  let source: EventSource | undefined;
  let later: ReturnType<typeof setTimeout> | undefined;
  const close = (): void => {
    source?.close();
    source = undefined;
    clearTimeout(later);
  };
  const open = (): void => {
    close();
    if (document.hidden) return;
    const opened = (source = new EventSource(`/api/v1${household_path(household)}/events`));
    opened.addEventListener("entry", (event) => heard(Number(event.lastEventId)));
    opened.addEventListener("error", () => {
      if (opened.readyState === EventSource.CLOSED) later = setTimeout(open, again_ms);  // refused; what breaks off comes back by itself
    });
  };
  document.addEventListener("visibilitychange", open);
  open();
  return () => {
    document.removeEventListener("visibilitychange", open);
    close();
  };
}
