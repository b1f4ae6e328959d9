// SPDX-License-Identifier: MIT
// What was refused, in words for people at a desk; the service's own sentences where it has them.
import type { Problem } from "../../api/types";
import { problem_code } from "../../api/client";
import { refusal_words, type Said } from "../../words/refusals";

export type { Said };

const by_code: Record<string, Said> = {
  "not-signed-in": { title: "You are not signed in any more.", detail: "Sign in again in another tab, then repeat this here: what you typed stands." },
  "not-allowed": { title: "Your way in may not do this.", detail: "An administrator of the agency may." },
};

function details(problem: Problem): string {
  const places = problem.errors?.map((one) => one.reason).filter(Boolean) ?? [];
  return places.length ? places.join(" ") : (problem.detail ?? "");
}

/// The plan on the page is of an earlier start of the service: nothing of it can be kept, and one press makes it anew.
export const is_restarted = (problem: Problem | null): boolean => (problem as (Problem & { restarted?: boolean }) | null)?.restarted === true;
const restarted: Said = {
  title: "This plan was worked out before the service restarted; work it out again.",
  detail: "Nothing of this was stored. What was confirmed or decided before stands, and what you ticked or chose here stays.",
};

export function desk_refusal(answer: { problem: Problem } | { no_signal: true }): Said {
  if ("no_signal" in answer) return { title: "The service cannot be reached.", detail: "Nothing was changed. Try again in a moment." };
  const { problem } = answer;
  if (is_restarted(problem)) return restarted;
  const known = by_code[problem_code(problem)];
  if (known) return known;
  return problem.errors?.length || problem.detail ? { title: problem.title, detail: details(problem) } : refusal_words(answer);
}
