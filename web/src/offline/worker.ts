// SPDX-License-Identifier: MIT
// The service worker: keeps the files of the pages on the phone, so that they open without a signal, and shows reminders.
// It touches no answer of the service: what of those is kept, and for how long it may be shown, is the page's to decide.
import { cleanupOutdatedCaches, createHandlerBoundToURL, precacheAndRoute } from "workbox-precaching";
import { NavigationRoute, registerRoute } from "workbox-routing";
import { kept_language } from "./kept_language";
import { on_push, page_of, type Reminder, type Shown, type Surroundings } from "./push";
import { told_on_this_phone } from "./push_words";

/// The build's list: a name with its content's hash needs no revision.
declare const FILES: { url: string; revision: string | null }[];

interface Event {
  waitUntil(work: Promise<unknown>): void;
  data?: { json(): unknown } | null;
  notification?: Shown;
}

interface Page {
  url: string;
  focus(): Promise<unknown>;
}

interface Worker {
  addEventListener(what: "install" | "activate" | "push" | "notificationclick", then: (event: Event) => void): void;
  skipWaiting(): Promise<void>;
  location: { origin: string };
  navigator: { languages: readonly string[] };
  registration: { showNotification: Surroundings["show"]; getNotifications(of: { tag: string }): Promise<Shown[]> };
  clients: { claim(): Promise<void>; matchAll(of: { type: "window" }): Promise<Page[]>; openWindow(url: string): Promise<unknown> };
}
const worker = self as unknown as Worker;

precacheAndRoute(FILES);
cleanupOutdatedCaches();
registerRoute(new NavigationRoute(createHandlerBoundToURL("/index.html"), { denylist: [/^\/api\//] }));
worker.addEventListener("install", (event) => event.waitUntil(worker.skipWaiting()));
worker.addEventListener("activate", (event) => event.waitUntil(worker.clients.claim()));

const around: Surroundings = {
  show: (title, words) => worker.registration.showNotification(title, words),
  shown: (tag) => worker.registration.getNotifications({ tag }),
  confirm: (path, body) => fetch(path, { method: "POST", credentials: "same-origin", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) }),
  pause: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
};

worker.addEventListener("push", (event) => {
  const told = event.data?.json() as Reminder | undefined;
  if (told) event.waitUntil(kept_language().then((language) => on_push({ ...told, body: told_on_this_phone(told.body, language, worker.navigator.languages) }, around)));
});

worker.addEventListener("notificationclick", (event) => {
  if (!event.notification) return;
  const page = page_of(event.notification, worker.location.origin);
  event.notification.close();
  event.waitUntil(worker.clients.matchAll({ type: "window" }).then((pages) => pages.find((one) => one.url.startsWith(page))?.focus() ?? worker.clients.openWindow(page)));
});
