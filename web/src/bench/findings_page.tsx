// SPDX-License-Identifier: MIT
// What a technician should look at, the newest first; what was seen, taken on and closed is a choice away.
import { AskedFor } from "../staff/asked";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import { choose } from "../staff/place";
import type { Finding, Findings, State } from "./api_findings";
import { FindingList } from "./finding_row";
import { Fresh, empty_words } from "./fresh";
import { LeftOut } from "./left_out";
import { rule_of } from "./span";
import { count, kind_words, state_words } from "./words";
import { where_words } from "./where";
import { tell } from "../words/catalogue/bench";

type Chosen = "work" | State | "all";

const choices: readonly Chosen[] = ["work", "open", "seen", "taken_on", "closed", "all"];
const choice_words: Record<Chosen, string> = { ...state_words, work: tell("bench.not_closed"), all: tell("bench.all") };

function is_in({ state }: Finding, chosen: Chosen): boolean {
  return chosen === "all" || (chosen === "work" ? state !== "closed" : state === chosen);
}

function count_of({ open, seen, taken_on, closed }: Record<State, number>, chosen: Chosen): number {
  const sums = { open, seen, taken_on, closed, work: open + seen + taken_on, all: open + seen + taken_on + closed };
  return sums[chosen];
}

function none_words(chosen: Chosen, filtered: boolean): string {
  if (filtered) return tell("bench.no_finding_here_matches_what_is");
  if (chosen === "closed") return tell("bench.nothing_was_closed_yet");
  if (chosen === "work" || chosen === "all") {
    return tell("bench.nothing_stands_out_in_the_records");
  }
  return tell("bench.none");
}

function Filter({ given, counts }: { given: Record<string, string>; counts: Record<State, number> }) {
  const state = (given["state"] ?? "work") as Chosen;
  const set = (change: Record<string, string>): void => choose("bench", { ...given, ...change });
  return (
    <form class="filter no-print" role="search" aria-label={tell("bench.which_findings")} onSubmit={(event) => event.preventDefault()}>
      <fieldset>
        <legend class="unseen">{tell("bench.state")}</legend>
        {choices.map((one) => (
          <label key={one}>
            <input type="radio" name="state" checked={state === one} onChange={() => set({ state: one === "work" ? "" : one })} />
            <span>
              {choice_words[one]} <b>{count_of(counts, one)}</b>
            </span>
          </label>
        ))}
      </fieldset>
      <label class="pick">
        <span>{tell("bench.what")}</span>
        <select value={given["what"] ?? ""} onChange={(event) => set({ what: event.currentTarget.value })}>
          <option value="">{tell("bench.anything")}</option>
          {Object.entries(kind_words).map(([kind, words]) => (
            <option key={kind} value={kind}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label class="pick">
        <span>{tell("bench.where")}</span>
        <input type="search" placeholder={tell("bench.home_unit_or_lot")} value={given["where"] ?? ""} onInput={(event) => set({ where: event.currentTarget.value })} />
      </label>
    </form>
  );
}

function List({ document, given }: { document: Findings; given: Record<string, string> }) {
  const state = (given["state"] ?? "work") as Chosen;
  const where = (given["where"] ?? "").trim().toLowerCase();
  const wanted = document.findings.filter((one) => is_in(one, state))
    .filter((one) => !given["what"] || one.kind === given["what"])
    .filter((one) => !where || where_words(one).toLowerCase().includes(where));
  return (
    <>
      <p class="unseen" role="status">{tell("bench.how_many_shown", { how_many: count(wanted.length, "finding") })}</p>
      {wanted.length > 0 ? <FindingList findings={wanted} rule={rule_of(document.findings)} /> : <p class="lead">{empty_words(document.as_of, none_words(state, Boolean(where || given["what"])))}</p>}
      <Fresh as_of={document.as_of} fresh={document.fresh} waiting={document.waiting} />
    </>
  );
}

export function FindingsPage({ given }: { given: Record<string, string> }) {
  const asked = useDocument<Findings>("/findings?state=all");
  return (
    <Page title={tell("bench.findings")}>
      <AskedFor asked={asked}>
        {(document) => (
          <>
            <LeftOut left_out={document.left_out} />
            <Filter given={given} counts={document.counts} />
            <List document={document} given={given} />
          </>
        )}
      </AskedFor>
    </Page>
  );
}
