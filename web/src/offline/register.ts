// SPDX-License-Identifier: MIT
// Registers the service worker. Newer pages than those on the screen are taken when the page is next out of sight, so
// that nothing changes under a finger; what was typed and what waits is kept across it.
import { language } from "../words/language";
import { keep_language } from "./kept_language";

export function keep_pages_on_this_phone(): void {
  const workers = navigator.serviceWorker;
  if (!workers) return;
  const first_time = !workers.controller;
  let newer = false;
  workers.addEventListener("controllerchange", () => (newer = !first_time));
  document.addEventListener("visibilitychange", () => {
    if (document.hidden && newer) window.location.reload();
  });
  void keep_language(language()).catch(() => undefined);
  void workers.register("/worker.js").catch(() => undefined);  // without it the pages work as long as there is a signal
}
