// SPDX-License-Identifier: MIT
// Sends what was meant, one after the other, until the service has it or refuses it by name. Without a signal, or while
// this phone is not signed in, it keeps the record and tries again by itself: soon at first, then every half minute, and
// at once when the phone says that it is back.
import { hold_of, household_path, post, problem_code, type Hold } from "../api/client";
import type { Problem, WriteAnswer } from "../api/types";
import type { Intention, Refusal } from "./intention";
import { stated } from "../time/service_clock";
import { rfc3339 } from "../time/zone";
import { all_stored, forget, store } from "./waiting_store";

export type Outcome = { recorded: WriteAnswer } | { refused: Problem };

/// The answer to a record has all that the page shows of the household, which then need not be asked for again (RFC 7240).
const with_household = { Prefer: "return=representation" };

const first_wait_ms = 2_000;
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

/// Meant as now by a clock that turned out to be ahead: what it is by the service's. The service tells its time with each
/// answer, also with the refusal that this follows; before one was refused so it may be stored, and has to stay as it is.
function by_the_service(intention: Intention, { place, zone }: NonNullable<Intention["as_now"]>): Intention {
  const phone_ms = Math.min(intention.meant_ms, Date.now());  // the phone's clock may have been set since
  return { ...intention, as_now: undefined, body: { ...intention.body, [place]: rfc3339(stated(new Date(phone_ms)), zone) } };
}

interface Waiting {
  intention: Intention;
  /// It is stored, or cannot be.
  kept: Promise<unknown>;
  settle: (outcome: Outcome) => void;
}

export class Outbox {
  private queue: Waiting[] = [];
  private sending = false;
  /// Some record could not be stored: it is lost with the page.
  only_in_memory = false;

  constructor(private readonly household: string, private readonly changed: (waiting: Intention[]) => void) {}

  /// What an earlier page left behind: each record on its way with the promise of its outcome, and what was refused.
  async left_behind(): Promise<{ waiting: { intention: Intention; outcome: Promise<Outcome> }[]; refused: Refusal[] }> {
    const known = new Set(this.queue.map((one) => one.intention.key));
    const left = await all_stored(this.household);
    const waiting = left.waiting.filter((one) => !known.has(one.key)).map((intention) => ({ intention, outcome: this.add(intention, Promise.resolve()) }));
    void this.run();
    return { waiting, refused: left.refused };
  }

  /// A refusal was closed, or what it was of sent again.
  forget(intention: Intention): void {
    void forget(this.household, intention);
  }

  send(intention: Intention): Promise<Outcome> {
    const kept = store(this.household, intention).then((stored) => {
      if (!stored) this.only_in_memory = true;
    });
    const outcome = this.add(intention, kept);
    void this.run();
    return outcome;
  }

  private add(intention: Intention, kept: Promise<unknown>): Promise<Outcome> {
    return new Promise((settle) => {
      const stage = this.queue[0]?.intention.stage ?? intention.stage;
      this.queue = [...this.queue, { intention: { ...intention, stage }, kept, settle }].sort((a, b) => a.intention.meant_ms - b.intention.meant_ms);
      this.tell();
    });
  }

  private async run(): Promise<void> {
    if (this.sending) return;
    this.sending = true;
    for (let first = this.queue[0]; first; first = this.queue[0]) {
      const { intention, kept, settle } = first;
      await kept;
      const outcome = await this.settled(intention);
      if ("refused" in outcome) await store(this.household, intention, outcome.refused);
      else await forget(this.household, intention);
      this.queue = this.queue.filter((one) => one.intention.key !== intention.key);
      settle(outcome);
      await null;  // whoever waits for the outcome goes first, so that the page is drawn once with both
      this.tell();
    }
    this.sending = false;
  }

  private async settled(intention: Intention): Promise<Outcome> {
    const { path, body, key, as_now } = intention;
    for (let wait_ms = first_wait_ms; ; wait_ms = Math.min(wait_ms * 2, longest_wait_ms)) {
      this.stage("sending");
      const answer = await post<WriteAnswer>(`${household_path(this.household)}/${path}`, body, key, with_household);
      if ("got" in answer) return { recorded: answer.got };
      const hold = "no_signal" in answer ? "no_signal" : hold_of(answer.problem);
      if (as_now && "problem" in answer && problem_code(answer.problem) === "future-date") return this.settled(by_the_service(intention, as_now));
      if (!hold) return { refused: (answer as { problem: Problem }).problem };
      this.stage(hold);
      const told_ms = "problem" in answer ? (answer.problem.retry_after_s ?? 0) * 1000 : 0;
      await sleep(Math.max(wait_ms, told_ms));
    }
  }

  /// What holds one holds all behind it.
  private stage(stage: "sending" | Hold): void {
    if (this.queue.every((one) => one.intention.stage === stage)) return;
    this.queue = this.queue.map((one) => ({ ...one, intention: { ...one.intention, stage } }));
    this.tell();
  }

  private tell(): void {
    this.changed(this.queue.map((one) => one.intention));
  }
}
