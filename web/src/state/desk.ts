// SPDX-License-Identifier: MIT
// All that the household's page knows and does: the last answers of the service, what is on its way, what was
// just recorded, what was refused.
import { get, household_path } from "../api/client";
import type { Forecast, Household, Problem, WriteAnswer } from "../api/types";
import { intend, type Intention, type Meant, type Recorded, type Refusal } from "./intention";
import { kept_in_tab } from "./kept";
import { send } from "./outbox";
import { Store } from "./store";

export interface DeskState {
  household: Household | null;
  forecast: Forecast | null;
  problem: Problem | null;
  signal: boolean;
  now: Date;
  waiting: Intention[];
  recorded: Recorded[];
  refusal: Refusal | null;
}

const refresh_ms = 60_000;
const tick_ms = 10_000;
export const undo_ms = 120_000;

export class Desk extends Store<DeskState> {
  private asked = 0;

  constructor(readonly name: string) {
    super({ household: null, forecast: null, problem: null, signal: true, now: new Date(), waiting: [], recorded: [], refusal: null });
  }

  start(): () => void {
    for (const left of kept_in_tab.get<Intention[]>(`waiting:${this.name}`) ?? []) void this.send(left);
    void this.load();
    const timers = [setInterval(() => this.tick(), tick_ms), setInterval(() => void this.load(), refresh_ms)];
    const back = (): void => {
      this.tick();
      if (!document.hidden) void this.load();
    };
    const leaving = (event: BeforeUnloadEvent): void => {
      if (this.value.waiting.length) event.preventDefault();  // the browser asks: something is not sent yet
    };
    document.addEventListener("visibilitychange", back);
    window.addEventListener("beforeunload", leaving);
    window.addEventListener("online", back);
    return () => {
      timers.forEach(clearInterval);
      document.removeEventListener("visibilitychange", back);
      window.removeEventListener("beforeunload", leaving);
      window.removeEventListener("online", back);
    };
  }

  tick(): void {
    const now = new Date();
    const recorded = this.value.recorded.filter((one) => one.packing || now.getTime() - one.recorded_ms < undo_ms);
    this.set({ now, recorded });
  }

  /// A packing list stays until it is closed; every other note goes when its undo in place is over.
  close(one: Recorded): void {
    this.set({ recorded: this.value.recorded.filter((other) => other !== one) });
  }

  async load(): Promise<void> {
    const turn = ++this.asked;
    const path = household_path(this.name);
    const [household, forecast] = await Promise.all([get<Household>(path), get<Forecast>(`${path}/forecast`)]);
    if (turn !== this.asked) return;
    const change: Partial<DeskState> = { now: new Date(), problem: null };
    if ("got" in household) change.household = household.got;
    if ("got" in forecast) change.forecast = forecast.got;
    for (const answer of [household, forecast]) if ("problem" in answer) change.problem = answer.problem;
    change.signal = !("no_signal" in household || "no_signal" in forecast);
    this.set(change);
  }

  /// Resolves when the service has the record or has refused it; until then it stays among what is waiting.
  async send(intention: Intention): Promise<boolean> {
    this.keep_waiting([...this.value.waiting, intention]);
    const outcome = await send(this.name, intention, (stage) => this.stage(intention.key, stage));
    this.keep_waiting(this.value.waiting.filter((one) => one.key !== intention.key));
    if ("refused" in outcome) {
      this.set({ refusal: { intention, problem: outcome.refused } });
      return false;
    }
    this.take(intention, outcome.recorded);
    return true;
  }

  mean(meant: Meant): Promise<boolean> {
    return this.send(intend(meant));
  }

  undo(one: Pick<Recorded, "side" | "sides" | "about" | "words"> & { entry: { id: string | number } }): Promise<boolean> {
    const { side, sides = [], about } = one;
    return this.mean({ path: "voids", body: { entry: one.entry.id }, side, sides, about, words: `Undo of “${one.words}”` });
  }

  private take(intention: Intention, answer: WriteAnswer): void {
    const now = new Date();
    let recorded = this.value.recorded;
    if (intention.path === "voids") recorded = recorded.filter((one) => one.entry.id !== intention.body["entry"]);
    else if (intention.path !== "answers") {
      const { side, sides, about } = intention;
      const words = answer.entry.text || intention.words;
      recorded = [...recorded, { entry: answer.entry, side, sides, about, words, recorded_ms: now.getTime(), packing: answer.packing }];
    }
    this.asked++;  // an answer asked for before this record would show the page as it was
    this.set({ now, recorded, signal: true, forecast: answer.forecast ?? this.value.forecast });
    void this.load();
  }

  private stage(key: string, stage: Intention["stage"]): void {
    const waiting = this.value.waiting.map((one) => (one.key === key ? { ...one, stage } : one));
    this.set({ waiting, signal: stage === "no_signal" ? false : this.value.signal });
  }

  private keep_waiting(waiting: Intention[]): void {
    this.set({ waiting });
    kept_in_tab.set(`waiting:${this.name}`, waiting.length ? waiting : null);
  }
}
