// SPDX-License-Identifier: MIT
// One lot: where it is, who has used it, how it did; and while it is recalled, the one list to call.
import { useEffect } from "preact/hooks";
import { Asked } from "../common/asked";
import { Cautions } from "../common/cautions";
import { date_words, moment, month_words, today_of } from "../common/dates";
import { LeftOut } from "../common/left_out";
import { useDocument } from "../common/use_document";
import { cap, count_of, of_item } from "../common/words";
import type { LotDocument } from "../lot_types";
import { phrase_of } from "../../words/phrases";
import { Calls } from "./calls";
import { Recalling, use_recall } from "./recalling";
import { HowItDid } from "./how_it_did";
import { Refused } from "../../access/refused";

const ask_again_ms = 3_000;
const home = (household: string): string => `#desk?${new URLSearchParams({ household })}`;

function Totals({ got }: { got: LotDocument }) {
  const { totals, item } = got;
  const rows: [string, number][] = [
    ["Received", totals.received], ["Used", totals.used], ["Thrown away", totals.discarded], ["In homes", totals.in_homes], ["On the way to homes", totals.on_its_way],
    ["Did not come to homes", totals.did_not_come], ["Did not come, and written off", totals.lost], ["In the agency's store", totals.in_agency],
    ["Gone with homes that were erased", totals.left_with_erased],
    ["Not accounted for", Math.max(0, totals.unaccounted)], ["Counted beyond what is known to have come", Math.max(0, -totals.unaccounted)],
  ];
  return (
    <dl class="figures">
      {rows.filter(([, n]) => n !== 0).map(([words, n]) => (
        <div key={words}>
          <dt>{words}</dt>
          <dd>{of_item(n, item)}</dd>
        </div>
      ))}
    </dl>
  );
}

function OnItsWay({ got, today }: { got: LotDocument; today: string }) {
  if (!got.on_its_way.length) return null;
  return (
    <>
      <h3>{`On the way to ${count_of(new Set(got.on_its_way.map((one) => one.household)).size, "home")}`}</h3>
      <ul class="lines">
        {got.on_its_way.map((one) => (
          <li key={one.household + one.round}>
            <a href={home(one.household)}>{one.household}</a>
            {` ${of_item(one.quantity, got.item)}, `}
            <a href={`#desk/round?${new URLSearchParams({ round: one.round })}`}>{`round of ${date_words(one.date, today)}`}</a>, no answer yet
          </li>
        ))}
      </ul>
    </>
  );
}

function DidNotCome({ got, today }: { got: LotDocument; today: string }) {
  if (!got.did_not_come.length) return null;
  return (
    <>
      <h3>{`Did not come to ${count_of(new Set(got.did_not_come.map((one) => one.household)).size, "home")}`}</h3>
      <ul class="lines">
        {got.did_not_come.map((one) => (
          <li key={one.household + one.round}>
            <a href={home(one.household)}>{one.household}</a>
            {` ${of_item(one.quantity, got.item)}, stop ${one.stop}, `}
            <a href={`#desk/round?${new URLSearchParams({ round: one.round })}`}>{`round of ${date_words(one.date, today)}`}</a>
            {one.said_at ? `, said ${moment(one.said_at, today)}` : ""}
          </li>
        ))}
      </ul>
      <p class="small">With the carrier perhaps, or at a neighbour's. Its round's page asks whether the packs came back to the store, or are lost.</p>
    </>
  );
}

/// The page does not wait for the list: it asks again while some of its sides are being made anew.
function BeingMade({ got, again }: { got: LotDocument; again: () => void }) {
  const { being_made: sides, recalled } = got;
  useEffect(() => {
    if (!sides) return;
    const soon = setTimeout(again, ask_again_ms);
    return () => clearTimeout(soon);
  });
  if (!sides) return null;
  return (
    <p role="status">
      {`The list is being made anew: ${count_of(sides, "side")} of these ${sides === 1 ? "has" : "have"} no date here yet.${recalled ? " All of them are to be changed at the next changing time." : ""}`}
    </p>
  );
}

const said_of = ({ phrase, change_by }: LotDocument["sides"][number], today: string): string =>
  phrase ? `${phrase_of({ phrase }).words}${change_by ? ` Change by ${moment(change_by, today)}.` : ""}` : "Being made anew.";

function Places({ got, today, again }: { got: LotDocument; today: string; again: () => void }) {
  return (
    <section aria-labelledby="where-name">
      <h2 id="where-name">Where it is</h2>
      {got.sides.length > 0 && (
        <>
          <h3>{`In ${count_of(got.sides.length, "side")}`}</h3>
          <BeingMade got={got} again={again} />
          <ul class="lines">
            {got.sides.map((one) => (
              <li key={one.household + one.side}>
                <a href={home(one.household)}>{one.household}</a>
                {` ${one.side} side since ${moment(one.since, today)}. ${said_of(one, today)}`}
              </li>
            ))}
          </ul>
        </>
      )}
      {got.places.length > 0 && (
        <>
          <h3>{`In ${count_of(new Set(got.places.map((one) => one.household)).size, "home")}`}</h3>
          <ul class="lines">
            {got.places.map((one) => (
              <li key={one.household + one.place}>
                <a href={home(one.household)}>{one.household}</a>
                {` ${[of_item(one.quantity, got.item), one.place, one.area, one.expires && `expires ${month_words(one.expires)}`].filter(Boolean).join(", ")}`}
              </li>
            ))}
          </ul>
        </>
      )}
      <OnItsWay got={got} today={today} />
      <DidNotCome got={got} today={today} />
      {!got.sides.length && !got.places.length && !got.on_its_way.length && !got.did_not_come.length && <p>In no home and in no side, by what was recorded.</p>}
    </section>
  );
}

function Users({ got, today }: { got: LotDocument; today: string }) {
  if (!got.users.length) return null;
  return (
    <section aria-labelledby="users-name">
      <h2 id="users-name">Who has used it</h2>
      <ul class="lines">
        {got.users.map((one) => (
          <li key={one.household}>
            <a href={home(one.household)}>{one.household}</a>
            {` ${count_of(one.sets, "set")}, the last ${moment(one.last_at, today)}`}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Recalled({ got, again }: { got: LotDocument; again: () => void }) {
  const { busy, said, undo } = use_recall(again);
  const { recalled } = got;
  if (!recalled) return <Recalling again={again} given={got.lot} item={got.item} />;
  return (
    <section class="first" aria-labelledby="recalled-name">
      <h2 id="recalled-name">{`Recalled ${moment(recalled.at, today_of(new Date()))}`}</h2>
      <Refused said={said} />
      <p>{[recalled.why, recalled.by && `by ${recalled.by}`].filter(Boolean).join(", ")}</p>
      <Calls lot={got.lot} item={got.item} called={again} />
      <button type="button" class="plain" disabled={busy} onClick={() => void undo(got.lot, got.item)}>
        The recall was a mistake: take it back
      </button>
    </section>
  );
}

export function LotPage({ lot, item }: { lot: string; item: string }) {
  const query = new URLSearchParams({ lot, item });
  const asked = useDocument<LotDocument>(`/lots/one?${query}`);
  const today = today_of(new Date());
  return (
    <>
      <p>
        <a href="#desk/lots">All lots</a>
      </p>
      <h1 tabIndex={-1}>{`Lot ${asked.got?.lot ?? lot}`}</h1>
      <Asked asked={asked} what="the lot">
        {(got) => (
          <>
            <p class="small">
              {`${cap(got.item)}. As of ${moment(got.as_of, today)}.${got.asked_as ? ` Asked for as ${got.asked_as}, which was put right.` : ""}${got.written_as.length ? ` Also written ${got.written_as.join(", ")}.` : ""} `}
              <Cautions />
            </p>
            <LeftOut left_out={got.left_out} />
            <div class="halves">
              <div>
                {got.recalled && <Recalled got={got} again={asked.again} />}
                <Totals got={got} />
                <HowItDid did={got.did} />
                {!got.recalled && <Recalled got={got} again={asked.again} />}
              </div>
              <div>
                <Places got={got} today={today} again={asked.again} />
                <Users got={got} today={today} />
                <p>
                  <a href={`/api/v1/lots/one.csv?${query}`} download>
                    All of this as a CSV file
                  </a>
                </p>
              </div>
            </div>
          </>
        )}
      </Asked>
    </>
  );
}
