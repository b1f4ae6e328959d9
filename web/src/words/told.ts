// SPDX-License-Identifier: MIT
// What the service says, in another language than its English: each of its sentences is read by its form, which stands in
// the catalogue ("Change by {when}."), and told again in the language's own. A sentence that no form fits stays English, as it
// may be a warning; a reason of a refusal that no form fits gives way to one that says as much.
import english from "./catalogue/en/service.json";
import refusals from "./catalogue/en/service_refusals.json";
import type { Problem } from "../api/types";
import { translation } from "./language";
import { retold, sentences_of } from "./retold";
import { fill } from "./tell";

const english_of: Record<string, Record<string, string>> = { service: english, service_refusals: refusals };
const later: string[] = [];

/// Forms of pages that come later than the first ones.
export function add_forms(section: string, sentences: Record<string, string>): void {
  english_of[section] = sentences;
  later.push(section);
}

const sentence_told = (section: string, text: string): string | null => retold(section, english_of[section] ?? {}, text);

export function told(text: string): string {
  const in_one = (sentence: string): string => ["service", ...later].map((section) => sentence_told(section, sentence)).find((one) => one !== null) ?? sentence;
  return sentences_of(text).map(in_one).join(" ");
}

function refusal_told(text: string): string | null {
  const all = sentences_of(text).map((sentence) => sentence_told("service_refusals", sentence));
  return all.every((one) => one !== null) ? all.join(" ") : null;
}

const not_taken = (): string => fill(translation("service_refusals", "other") ?? refusals.other, {});

/// Why the service refused: its title, the reason at each field, and the rest only where there are words for it.
export function told_problem(problem: Problem): Problem {
  const { title, detail, errors, ...rest } = problem;
  const said: Problem = { ...rest, title: refusal_told(title) ?? not_taken() };
  const more = detail && refusal_told(detail);
  if (more) said.detail = more;
  if (errors) said.errors = errors.map((one) => ({ ...one, reason: refusal_told(one.reason) ?? not_taken() }));
  return said;
}

const spoken = new Set(["sentence", "limit", "text", "odds_text", "statement", "because", "cautions", "title", "verdict", "evidence", "words", "ended_text", "settings_text"]);

/// A document of the service with all that it says told in the language of the page.
export function told_document<T>(value: T, spoken_here = false): T {
  if (typeof value === "string") return (spoken_here ? told(value) : value) as T;
  if (Array.isArray(value)) return value.map((one) => told_document(one, spoken_here) as unknown) as T;
  if (!value || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, told_document(one as unknown, spoken.has(name))])) as T;
}
