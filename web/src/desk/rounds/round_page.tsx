// SPDX-License-Identifier: MIT
// One confirmed round on its day: what to load, what each stop gets, how far it is, and all of it on paper.
import { useState } from "preact/hooks";
import { Refused } from "../../access/refused";
import { Asked } from "../common/asked";
import { date_words, moment, month_words, today_of } from "../common/dates";
import { say_done } from "../common/done";
import { useDocument } from "../common/use_document";
import { useSend } from "../common/use_send";
import { cap, count_of, delivery_words, of_item, packs, state_words } from "../common/words";
import type { Round, RoundState } from "../round_types";
import { line_words } from "./lot_line";
import { street_of_round } from "./plan_model";
import { carries_recalled, RecalledLots } from "./recalled_lots";
import { NotCome } from "./not_come";
import { PrintedRound } from "./printed_round";
import { Street, StreetKey } from "./street";
import { StandsNow } from "./stands_now";

const path_of = (round: string): string => `/rounds/${encodeURIComponent(round)}`;

interface Next {
  state: RoundState;
  words: string;
  means: string;
}

function next_of(round: Round): Next | null {
  const { state, picking } = round;
  if (state !== "left" && carries_recalled(round)) return null;
  const n = picking.reduce((sum, one) => sum + one.packs, 0);
  if (state === "planned") return { state: "loaded", words: "It is loaded", means: `Takes ${packs(n)} out of the agency's store, lot by lot.` };
  if (state === "loaded") return { state: "left", words: "It has left", means: "The homes read that it is on its way." };
  if (state === "left") return { state: "done", words: "It is back", means: "Homes that have not answered stay on the first list until they do." };
  return null;
}

function Steps({ round, again }: { round: Round; again: () => void }) {
  const { busy, said, problem, clear, send } = useSend();
  const [sure, set_sure] = useState(false);
  const next = next_of(round);
  const say = (state: RoundState, follows: number): Promise<Round | null> => send<Round>(`${path_of(round.round)}/state`, { state, follows });
  const go = async (state: RoundState): Promise<void> => {
    const kept = await say(state, round.number);
    if (!kept) return;
    set_sure(false);
    const back = async (): Promise<string | null> => {
      const loaded = await say("loaded", kept.number);
      if (loaded) again();
      return loaded && `${round.round}: loaded, it has not left.`;
    };
    say_done(`${round.round}: ${state_words[state]}.`, state === "left" ? back : null);
    again();
  };
  return (
    <section aria-labelledby="steps-name">
      <h2 id="steps-name">{cap(state_words[round.state])}</h2>
      <p class="small">{round.history.map((one) => `${cap(state_words[one.state])} ${moment(one.at, today_of(new Date()))}`).join("; ")}</p>
      <Refused said={said} />
      <StandsNow problem={problem} clear={clear} again={again} />
      {next && (
        <div class="answers">
          <button type="button" class="main" disabled={busy} onClick={() => void go(next.state)}>
            {next.words}
          </button>
          <p>{next.means}</p>
        </div>
      )}
      {round.state === "left" && (
        <p>
          <button type="button" class="plain" disabled={busy} onClick={() => void go("loaded")}>
            It has not left: back to loaded
          </button>
          <small> What homes received stays received.</small>
        </p>
      )}
      {(round.state === "planned" || round.state === "loaded") && !sure && (
        <button type="button" class="plain" onClick={() => set_sure(true)}>
          Cancel this round
        </button>
      )}
      {sure && (
        <div class="ask" role="alert">
          <p class="strong">Cancel this round?</p>
          <p>{`Its ${count_of(round.stops.length, "stop")} are planned anew; what was loaded goes back into the store. It cannot be undone.`}</p>
          <div class="answers">
            <button type="button" disabled={busy} onClick={() => void go("cancelled")}>
              Yes, cancel it
            </button>
            <button type="button" onClick={() => set_sure(false)}>
              No
            </button>
          </div>
        </div>
      )}
    </section>
  );
}

function Picking({ round }: { round: Round }) {
  return (
    <section aria-labelledby="picking-name">
      <h2 id="picking-name">To load</h2>
      {round.picking.length === 0 && <p>Nothing.</p>}
      {round.picking.length > 0 && (
        <table class="numbers">
          <thead>
            <tr>
              <th scope="col">Item</th>
              <th scope="col">Lot</th>
              <th scope="col">Packs</th>
              <th scope="col">Pieces</th>
              <th scope="col">Expires</th>
            </tr>
          </thead>
          <tbody>
            {round.picking.map((one) => (
              <tr key={one.item + one.lot}>
                <th scope="row">{cap(one.item)}</th>
                <td>{one.recalled ? <b>{`${one.lot}: recalled, do not load`}</b> : one.lot || "any"}</td>
                <td class="by-word">{one.packs}</td>
                <td>{of_item(one.pieces, one.item)}</td>
                <td class="by-word">{one.expires ? month_words(one.expires) : ""}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

function Sheet({ round }: { round: Round }) {
  const today = today_of(new Date());
  return (
    <section aria-labelledby="sheet-name">
      <h2 id="sheet-name">Stops</h2>
      <ul class="stops">
        {round.stops.map((stop) => (
          <li key={stop.stop}>
            <p>
              <b>{stop.stop}</b>
            </p>
            <ul class="stop-lines">
              {stop.lines.map((one) => (
                <li key={one.household + one.item} class={one.state === "no_answer" || one.did_not_come > 0 ? "strong" : undefined}>
                  <a href={`#desk?${new URLSearchParams({ household: one.household })}`}>{one.household}</a>
                  {` ${line_words(one)}: ${delivery_words[one.state]}${one.answered_at ? ` ${moment(one.answered_at, today)}` : ""}${one.state === "received" && one.did_not_come > 0 ? `; ${of_item(one.did_not_come, one.item)} did not come` : ""}`}
                </li>
              ))}
            </ul>
          </li>
        ))}
      </ul>
    </section>
  );
}

export function RoundPage({ round }: { round: string }) {
  const asked = useDocument<Round>(path_of(round));
  const today = today_of(new Date());
  return (
    <Asked asked={asked} what="the round">
      {(got) => (
        <>
          <div class="not-printed">
            <p>
              <a href={`#desk/plan?${new URLSearchParams({ round })}`}>Back to the plan</a>
            </p>
            <h1 tabIndex={-1}>{`${date_words(got.date, today)}, ${got.round.replace(` ${got.date}`, "")}`}</h1>
            <p>{`Area ${got.area}. ${got.stops.length} of ${count_of(got.stops_at_most, "stop")}.`}</p>
            <Street houses={street_of_round(got)} wide={40} />
            <StreetKey />
            <RecalledLots round={got} />
            <Steps round={got} again={asked.again} />
            <NotCome round={got} again={asked.again} />
            <div class="answers">
              <button type="button" onClick={() => window.print()}>
                Print it for the driver
              </button>
              <p>What to load and every stop, on paper: it works without a signal.</p>
            </div>
            <div class="halves">
              <Picking round={got} />
              <Sheet round={got} />
            </div>
          </div>
          <PrintedRound round={got} />
        </>
      )}
    </Asked>
  );
}
