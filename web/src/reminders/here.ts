// SPDX-License-Identifier: MIT
// Whether this phone can be sent reminders, and asking its browser for it.

export type Ability = "can" | "install_first" | "refused" | "cannot";

interface Phone {
  has_push: boolean;
  permission: string;
  is_ios: boolean;
  is_installed: boolean;
}

/// iPhones and iPads have it for pages on the Home Screen alone.
export function ability_of({ has_push, permission, is_ios, is_installed }: Phone): Ability {
  if (!has_push) return is_ios && !is_installed ? "install_first" : "cannot";
  return permission === "denied" ? "refused" : "can";
}

export function ability_here(): Ability {
  const is_ios = /iPhone|iPad|iPod/.test(navigator.userAgent) || (navigator.userAgent.includes("Macintosh") && navigator.maxTouchPoints > 1);
  return ability_of({
    has_push: "serviceWorker" in navigator && "PushManager" in window && "Notification" in window,
    permission: "Notification" in window ? Notification.permission : "default", is_ios,
    is_installed: window.matchMedia("(display-mode: standalone)").matches,
  });
}

function bytes_of(base64url: string): Uint8Array<ArrayBuffer> {
  const text = atob(base64url.replace(/-/g, "+").replace(/_/g, "/"));
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
}

const registered = () => navigator.serviceWorker.register("/worker.js").then(() => navigator.serviceWorker.ready);
const in_vain = (wait_ms: number) => new Promise<never>((_, give_up) => setTimeout(give_up, wait_ms));

/// Null: the person did not allow it, or the browser's own service could not be reached.
export async function subscribe_here(key: string): Promise<PushSubscriptionJSON | null> {
  try {
    if ((await Notification.requestPermission()) !== "granted") return null;
    const registration = await Promise.race([registered(), in_vain(20_000)]);
    return (await registration.pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: bytes_of(key) })).toJSON();
  } catch {
    return null;
  }
}

export async function unsubscribe_here(): Promise<void> {
  const registration = await navigator.serviceWorker.getRegistration();
  await (await registration?.pushManager.getSubscription())?.unsubscribe().catch(() => false);
}
