// SPDX-License-Identifier: MIT
// What a form is made of: a draft of plain strings, and a model that turns it into errors by field, a summary in
// words, and what to send. Models are pure, so tests read them without a page.
import type { Forecast, Household, Side } from "../api/types";
import type { Told } from "../state/correspondence";
import type { Draft } from "../state/draft";
import type { Meant } from "../state/intention";

export interface Context {
  household: Household | null;
  forecast: Forecast | null;
  told: Told | null;
  /// By whose clocks times are told and asked: "at home", or where the household is staying.
  zone: string;
  place?: string;
  changing_times: string[];
}

export interface Model {
  errors: Record<string, string>;
  summary: string;
  posts: Meant[];
  /// Sides that are not due: the form asks once more before it sends.
  not_due?: Side[];
  /// Lines on what lies beyond the range of the unit's profile: the form asks once more.
  beyond?: string[];
}

export type ModelOf = (draft: Draft, context: Context, now: Date) => Model;

/// What the fields of a form share.
export interface Fields {
  draft: Draft;
  change: (part: Draft) => void;
  errors: Record<string, string>;
}

/// One field: its name, what it holds (`start` until something is chosen), what is wrong with it.
export function field({ draft, change, errors }: Fields, name: string, start = "") {
  return { name, value: draft[name] ?? start, error: errors[name], onChange: (value: string): void => change({ [name]: value }) };
}

/// From a JSON pointer in a problem ("/cells/lot") to the field that shows it.
export type FieldOfPlace = Record<string, string>;

export function field_of(place: string, fields: FieldOfPlace): string | null {
  const known = Object.keys(fields).filter((prefix) => place === prefix || place.startsWith(`${prefix}/`));
  const longest = known.sort((a, b) => b.length - a.length)[0];
  return longest === undefined ? null : (fields[longest] ?? null);
}
