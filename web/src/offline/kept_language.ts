// SPDX-License-Identifier: MIT
// The language in which this phone's pages speak, kept where the service worker finds it too.

const cache = "cellarer-language";
const name = "/language";

export async function keep_language(language: string): Promise<void> {
  await (await caches.open(cache)).put(name, new Response(language));
}

/// Null: no page has opened here since, or this browser keeps nothing.
export async function kept_language(): Promise<string | null> {
  const found = await caches.match(name, { cacheName: cache }).catch(() => undefined);
  return found ? found.text() : null;
}
