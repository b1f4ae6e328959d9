// SPDX-License-Identifier: MIT
// How far this phone's clock is from the service's, and whose time a "now" takes. A record of a time to come counts only
// once that time has come; so until someone answers which clock is right, "now" is never later than the service's.
import { kept } from "../state/kept";

export type Whose = "phone" | "service";

const worth_asking_ms = 10 * 60_000;
let ahead_ms: number | null = null;

/// By the last answer of the service; to the second, as HTTP has it.
export function learn_clock(date: string | null): void {
  const theirs = Date.parse(date ?? "");
  if (!Number.isNaN(theirs)) ahead_ms = Date.now() - theirs;
}

function kept_answer(): { whose: Whose; of_ms: number } | null {
  const [whose, of_ms] = (kept.get("clock") ?? "").split(" ");
  return whose === "phone" || whose === "service" ? { whose, of_ms: Number(of_ms) } : null;
}

/// Not known before the first answer: then what was answered of the last difference holds.
export const clock_ahead_ms = (): number => ahead_ms ?? kept_answer()?.of_ms ?? 0;

export const is_worth_asking = (): boolean => Math.abs(clock_ahead_ms()) > worth_asking_ms;

/// Which is right, as somebody answered of about this difference.
export function right_clock(): Whose | null {
  const answer = kept_answer();
  return answer && Math.abs(answer.of_ms - clock_ahead_ms()) <= worth_asking_ms ? answer.whose : null;
}

export function answer_clock(whose: Whose): void {
  kept.set("clock", `${whose} ${clock_ahead_ms()}`);
}

/// What a "now" of this phone's clock is stated as.
export function stated(phone: Date): Date {
  const ahead = clock_ahead_ms();
  const corrected = right_clock() !== "phone" && (ahead > 0 || is_worth_asking());
  return corrected ? new Date(phone.getTime() - ahead) : phone;
}
