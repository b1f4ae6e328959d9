// SPDX-License-Identifier: MIT
// Something a person meant to record. It has one key for all its attempts, and the draft it was made from, so
// that a refusal brings the form back as it was.
import type { Hold } from "../api/client";
import type { Entry, Packing, Problem, Side } from "../api/types";

export type PlanForm = "paced_more" | "less" | "settings" | "visit" | "hospital" | "back_home" | "unit" | "end";
export type FormName = "change" | "reading" | "warned" | "stock" | "away" | "compare" | "message" | "delivery" | PlanForm;

export interface Intention {
  key: string;
  path: string;
  body: Record<string, unknown>;
  side: Side | null;
  /// Sides whose forecast it will change, where it is not of one side alone.
  sides?: Side[];
  about: "side" | "stock" | "away" | "plan" | "agency";
  words: string;
  form: FormName | null;
  draft: unknown;
  /// Where it is told that it was meant as now, and by whose clocks.
  as_now?: { place: "at" | "from"; zone: string } | undefined;
  /// When it was meant: records are sent in this order.
  meant_ms: number;
  stage: "sending" | Hold;
}

export interface Recorded {
  entry: Entry;
  side: Side | null;
  sides?: Side[] | undefined;
  about: Intention["about"];
  words: string;
  recorded_ms: number;
  packing?: Packing | null | undefined;
}

export interface Refusal {
  intention: Intention;
  problem: Problem;
  /// Its form came back already, on this page or an earlier one: it does so again only when it is asked for.
  shown?: boolean;
}

/// crypto.randomUUID wants a secure page; 128 random bits are the same thing without it.
export function new_key(): string {
  if (typeof crypto.randomUUID === "function") return crypto.randomUUID();
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

export const is_plan = (one: Pick<Intention, "about">): boolean => one.about === "plan" || one.about === "away";

/// Whether this side's forecast will be another once it is recorded.
export function concerns(one: Pick<Intention, "side" | "sides">, side: Side): boolean {
  return one.side === side || Boolean(one.sides?.includes(side));
}

export type Meant = Pick<Intention, "path" | "body" | "words"> & Partial<Intention>;

let last_ms = 0;

/// Later than every one before it, so that what one form means keeps its order.
export function intend(meant: Meant): Intention {
  last_ms = Math.max(Date.now(), last_ms + 1);
  return { side: null, about: "side", form: null, draft: null, ...meant, key: new_key(), meant_ms: last_ms, stage: "sending" };
}
