// SPDX-License-Identifier: MIT
// All that the household's page knows and does: the last answers of the service, what is on its way, what was
// just recorded, what was refused.
import { ask_session, type Session } from "../api/access";
import { get, hold_of, household_path } from "../api/client";
import type { Correspondence } from "../api/agency";
import type { Entry, Forecast, Household, Problem, WriteAnswer } from "../api/types";
import type { Told } from "./correspondence";
import { drop_draft } from "./draft";
import { listen } from "./events";
import { keep_help } from "./help";
import { intend, type Intention, type Meant, type Recorded, type Refusal } from "./intention";
import { kept } from "./kept";
import { forget_documents, keep_documents, kept_documents } from "./kept_documents";
import { Outbox, try_again_now, type Outcome } from "./outbox";
import { Store } from "./store";
import { zone_of } from "../time/place";
import { stated } from "../time/service_clock";
import { learn_clocks } from "../time/zone";
import { tell } from "../words/catalogue/first";

export interface DeskState {
  household: Household | null;
  forecast: Forecast | null;
  session: Session | null;
  /// Messages and deliveries. Null: not known, which is settled once the service was asked.
  told: Told | null;
  told_settled: boolean;
  problem: Problem | null;
  /// This phone may not read the household, or not now: nothing of it is shown.
  shut_out: Problem | null;
  signal: boolean;
  /// What is shown was kept on this phone, and nothing newer has come yet.
  from_phone: boolean;
  /// The first answer takes long: what can be done without it is shown meanwhile.
  slow: boolean;
  now: Date;
  waiting: Intention[];
  recorded: Recorded[];
  /// Shown one after the other, until each was closed or sent again.
  refusals: Refusal[];
}

const refresh_ms = 60_000;
const slow_ms = 3_000;
const tick_ms = 10_000;
export const undo_ms = 120_000;

/// Some answers name the entry by its number alone.
function entry_of({ entry }: WriteAnswer, { path }: Intention, now: Date): Entry {
  const at = now.toISOString();
  return typeof entry === "number" ? { id: entry, kind: path, at, recorded_at: at, text: "" } : entry;
}

/// By the clock that counts, where this phone's is off: what was noted a minute ago is of today then, not of tomorrow.
const time_here = (): Date => stated(new Date());

/// A document that says the same stays the one it was: what was drawn and measured after it stands.
const unless_same = <T>(before: T | null, now: T): T => (before !== null && before !== now && JSON.stringify(before) === JSON.stringify(now) ? before : now);

export class Desk extends Store<DeskState> {
  private asked = 0;
  private asked_told = 0;
  /// The newest entry that was heard of, and the newest that what was asked for last will have.
  private newest = 0;
  private asked_for = 0;
  private readonly outbox: Outbox;

  constructor(readonly name: string) {
    super({
      household: null, forecast: null, session: null, told: null, told_settled: false, problem: null, shut_out: null, signal: true, from_phone: false, slow: false, now: time_here(), waiting: [], recorded: [], refusals: [],
    });
    this.outbox = new Outbox(name, (waiting) => this.keep_waiting(waiting));
  }

  start(): () => void {
    void this.outbox.left_behind().then(({ waiting, refused }) => {
      this.set({ refusals: [...refused.map((one) => ({ ...one, shown: true })), ...this.value.refusals] });
      waiting.forEach(({ intention, outcome }) => void this.follow(intention, outcome));
    });
    void this.load();
    void this.ask_who();
    const deaf = listen(this.name, (entry) => this.heard(entry));
    const timers = [setTimeout(() => this.took_long(), slow_ms), setInterval(() => this.tick(), tick_ms), setInterval(() => void this.load(), refresh_ms)];
    const back = (): void => {
      this.tick();
      if (document.hidden) return;
      void this.load();
      void this.ask_who();
    };
    const leaving = (event: BeforeUnloadEvent): void => {
      if (this.value.waiting.length && this.outbox.only_in_memory) event.preventDefault();  // the browser asks: it would be lost
    };
    document.addEventListener("visibilitychange", back);
    window.addEventListener("beforeunload", leaving);
    window.addEventListener("online", back);
    return () => {
      deaf();
      timers.forEach(clearInterval);
      document.removeEventListener("visibilitychange", back);
      window.removeEventListener("beforeunload", leaving);
      window.removeEventListener("online", back);
    };
  }

  /// Another phone may have recorded what is not shown here yet. While this one sends a record it waits for the answer, which
  /// is asked for more afterwards: most often what was heard of is that record.
  private heard(entry: number): void {
    this.newest = Math.max(this.newest, entry);
    if (this.value.waiting[0]?.stage === "sending") return;
    if (this.newest > Math.max(this.asked_for, this.value.household?.last_entry ?? -1)) void this.load();
  }

  override set(change: Partial<DeskState>): void {
    const { forecast } = change;
    if (forecast) learn_clocks(zone_of(forecast), forecast.clocks);
    super.set(change);
  }

  tick(): void {
    const recorded = this.value.recorded.filter((one) => one.packing || Date.now() - one.recorded_ms < undo_ms);
    this.set({ now: time_here(), recorded });
  }

  /// A packing list stays until it is closed; every other note goes when its undo in place is over.
  close(one: Recorded): void {
    this.set({ recorded: this.value.recorded.filter((other) => other !== one) });
  }

  /// `brought`: a record's own answer has its forecast, which then need not be asked for.
  async load(brought?: Forecast | null): Promise<void> {
    if (!brought) void this.load_told();  // a record of cells changes nothing of what the agency told
    const turn = ++this.asked;
    const path = household_path(this.name);
    const [household, forecast] = await Promise.all([get<Household>(path), brought ? { got: brought } : get<Forecast>(`${path}/forecast`)]);
    if (turn !== this.asked) return;
    const change: Partial<DeskState> = { ...(!brought && { now: time_here() }), problem: null, signal: !("no_signal" in household || "no_signal" in forecast) };
    if ("got" in household) {
      change.household = unless_same(this.value.household, household.got);
      keep_help(household.got);
    }
    if ("got" in forecast) Object.assign(change, { forecast: unless_same(this.value.forecast, forecast.got), from_phone: false });
    if (change.signal) change.shut_out = null;
    for (const answer of [household, forecast]) {
      if (!("problem" in answer)) continue;
      const hold = hold_of(answer.problem);
      if (hold && hold !== "no_signal") forget_documents(this.name);
      if (hold && hold !== "no_signal") Object.assign(change, { shut_out: answer.problem, household: null, forecast: null, told: null, recorded: [] });
      else change.problem = answer.problem;
    }
    const back_in = this.value.shut_out && change.shut_out === null;
    this.set(change);
    if ("got" in household && "got" in forecast) this.keep();
    if (back_in) try_again_now();
    if (!change.signal) void this.show_kept();
  }

  private async load_told(): Promise<void> {
    const turn = ++this.asked_told;
    const answer = await get<Correspondence>(`${household_path(this.name)}/messages`);
    if (turn !== this.asked_told) return;
    if (!("got" in answer)) return this.set({ told_settled: true });
    this.set({ told: { document: unless_same(this.value.told?.document ?? null, answer.got), read_ms: Date.now() }, told_settled: true });
    this.keep();
  }

  private keep(): void {
    const { household, forecast, told, from_phone } = this.value;
    if (household && forecast && !from_phone) keep_documents(this.name, { household, forecast, told });
  }

  private took_long(): void {
    this.set({ told_settled: true });
    if (this.value.forecast) return;
    this.set({ slow: true });
    void this.show_kept();
  }

  /// Only while nothing has come from the service: without a signal, or where it takes long.
  private async show_kept(): Promise<void> {
    if (this.value.forecast || this.value.shut_out) return;
    const documents = await kept_documents(this.name);
    if (!documents || this.value.forecast || this.value.shut_out) return;
    this.set({ household: documents.household, forecast: documents.forecast, told: this.value.told ?? documents.told ?? null, from_phone: true });
  }

  private async ask_who(): Promise<void> {
    const answer = await ask_session();
    if ("got" in answer) {
      this.set({ session: answer.got });
      if (answer.got.household === this.name) kept.set("household", this.name);  // where the installed page opens
    }
    if ("problem" in answer) this.set({ session: null });
  }

  /// Resolves when the service has the record or has refused it; until then it stays among what is waiting.
  send(intention: Intention): Promise<boolean> {
    return this.follow(intention, this.outbox.send(intention));
  }

  private async follow(intention: Intention, on_its_way: Promise<Outcome>): Promise<boolean> {
    const outcome = await on_its_way;
    if ("refused" in outcome) {
      this.set({ refusals: [...this.value.refusals, { intention, problem: outcome.refused }] });
      return false;
    }
    this.take(intention, outcome.recorded);
    return true;
  }

  /// It was closed, or is sent again.
  settle(refusal: Refusal): void {
    this.outbox.forget(refusal.intention);
    drop_draft(this.name, refusal.intention);
    this.set({ refusals: this.value.refusals.filter((one) => one.intention.key !== refusal.intention.key) });
  }

  shown(refusal: Refusal): void {
    this.set({ refusals: this.value.refusals.map((one) => (one === refusal ? { ...one, shown: true } : one)) });
  }

  mean(meant: Meant): Promise<boolean> {
    return this.send(intend(meant));
  }

  undo(one: Pick<Recorded, "side" | "sides" | "about" | "words"> & { entry: { id: string | number } }): Promise<boolean> {
    const { side, sides = [], about } = one;
    return this.mean({ path: "voids", body: { entry: one.entry.id }, side, sides, about, words: tell("desk.undo_of", { words: one.words }) });
  }

  private take(intention: Intention, answer: WriteAnswer): void {
    const now = time_here();
    const entry = entry_of(answer, intention, now);
    let recorded = this.value.recorded;
    if (intention.path === "voids") recorded = recorded.filter((one) => String(one.entry.id) !== String(intention.body["entry"]));
    else if (intention.path !== "answers") {
      const { side, sides, about } = intention;
      const words = entry.text || intention.words;
      recorded = [...recorded, { entry, side, sides, about, words, recorded_ms: Date.now(), packing: answer.packing }];
    }
    const { forecast, household } = answer;
    const whole = forecast && household && !this.value.shut_out;
    this.asked_for = Math.max((whole ? household.last_entry : this.newest) ?? 0, Number(entry.id) || 0);
    this.asked++;  // an answer asked for before this record would show the page as it was
    this.set({ now, recorded, signal: true, forecast: forecast ?? this.value.forecast, ...(whole && { household, problem: null, from_phone: false }) });
    if (!whole) void this.load(forecast);
    else {
      keep_help(household);
      this.keep();
    }
    if (answer.forecast && ["agency", "stock"].includes(intention.about)) void this.load_told();
  }

  private keep_waiting(waiting: Intention[]): void {
    const stage = waiting[0]?.stage;
    if (stage === "not_signed_in" && !this.value.shut_out) void this.load();
    this.set({ waiting, signal: stage === "no_signal" ? false : this.value.signal });
    this.heard(this.newest);
  }
}
