// SPDX-License-Identifier: MIT
// Sends what was meant until the service has it or refuses it by name. Without a signal it tries again by itself:
// soon at first, then every half minute, and at once when the phone says that it is back.
import { household_path, may_pass, post } from "../api/client";
import type { Problem, WriteAnswer } from "../api/types";
import type { Intention } from "./intention";

export type Outcome = { recorded: WriteAnswer } | { refused: Problem };

const longest_wait_ms = 30_000;
let wake_up: (() => void)[] = [];

export function try_again_now(): void {
  const sleepers = wake_up;
  wake_up = [];
  sleepers.forEach((wake) => wake());
}

window.addEventListener("online", try_again_now);

function sleep(ms: number): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, ms);
    wake_up.push(() => {
      clearTimeout(timer);
      resolve();
    });
  });
}

export async function send(household: string, intention: Intention, stage: (now: Intention["stage"]) => void): Promise<Outcome> {
  const path = `${household_path(household)}/${intention.path}`;
  for (let wait_ms = 2_000; ; wait_ms = Math.min(wait_ms * 2, longest_wait_ms)) {
    stage("sending");
    const answer = await post<WriteAnswer>(path, intention.body, intention.key);
    if ("got" in answer) return { recorded: answer.got };
    if ("problem" in answer && !may_pass(answer.problem)) return { refused: answer.problem };
    stage("no_signal");
    await sleep(wait_ms);
  }
}
