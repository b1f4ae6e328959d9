// SPDX-License-Identifier: MIT
// Views of the list that a planner named, kept on this device.
import { kept } from "../../state/kept";
import { first_view, type View } from "./view";

export interface SavedView {
  name: string;
  view: View;
}

const place = "desk-views";
const most = 20;

function is_view(one: unknown): one is SavedView {
  const { name, view } = (one ?? {}) as Partial<SavedView>;
  return typeof name === "string" && typeof view === "object" && view !== null && Object.keys(first_view).every((key) => typeof (view as unknown as Record<string, unknown>)[key] === "string");
}

export function saved_views(): SavedView[] {
  try {
    const read: unknown = JSON.parse(kept.get(place) ?? "[]");
    return Array.isArray(read) ? read.filter(is_view) : [];
  } catch {
    return [];
  }
}

/// A view of the same name is replaced.
export function save_view(name: string, view: View): SavedView[] {
  const views = [...saved_views().filter((one) => one.name !== name), { name, view }].slice(-most);
  kept.set(place, JSON.stringify(views));
  return views;
}

export function forget_view(name: string): SavedView[] {
  const views = saved_views().filter((one) => one.name !== name);
  kept.set(place, JSON.stringify(views));
  return views;
}
