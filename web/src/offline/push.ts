// SPDX-License-Identifier: MIT
// What the service worker does with a reminder: it shows it in the service's words and confirms that it did; one that
// was recorded meanwhile on another phone it takes away. A reminder is not an alarm.

export interface Reminder {
  kind: "reminder" | "trial" | "gone";
  reminder: string;
  household: string;
  tag: string;
  title: string;
  body: string;
  urgent?: boolean;
  url?: string;
}

export interface Shown {
  tag?: string;
  data?: unknown;
  close(): void;
}

interface NotificationWords {
  body: string;
  tag: string;
  renotify?: boolean;
  silent?: boolean;
  requireInteraction?: boolean;
  data?: unknown;
}

/// Of the worker's surroundings, what is needed here.
export interface Surroundings {
  show(title: string, words: NotificationWords): Promise<void>;
  shown(tag: string): Promise<Shown[]>;
  confirm(path: string, body: unknown): Promise<unknown>;
  pause(ms: number): Promise<void>;
}

const seen_ms = 3_000;

/// Browsers take the permission away from workers that were woken and showed nothing: then it is shown for a moment.
async function take_away(told: Reminder, around: Surroundings): Promise<void> {
  const shown = await around.shown(told.tag);
  shown.forEach((one) => one.close());
  if (shown.length) return;
  await around.show(told.title, { body: told.body, tag: told.tag, silent: true, data: { url: told.url ?? "/" } });
  await around.pause(seen_ms);
  (await around.shown(told.tag)).forEach((one) => one.close());
}

export async function on_push(told: Reminder, around: Surroundings): Promise<void> {
  if (told.kind === "gone") return take_away(told, around);
  const data = { url: told.url ?? "/" };
  await around.show(told.title, { body: told.body, tag: told.tag, renotify: true, requireInteraction: told.urgent ?? false, data });
  await around.confirm(`/api/v1/households/${encodeURIComponent(told.household)}/push/confirmed`, { reminder: told.reminder }).catch(() => undefined);
}

/// A page of ours alone: an address of another origin is not followed.
export function page_of(notification: { data?: unknown }, origin: string): string {
  const told = (notification.data as { url?: unknown } | undefined)?.url;
  const page = new URL(typeof told === "string" ? told : "/", origin);
  return page.origin === origin ? page.href : `${origin}/`;
}
