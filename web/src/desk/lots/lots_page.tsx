// SPDX-License-Identifier: MIT
// "Lots": every lot the agency knows, recalled ones first; recalling one, and putting a wrong number right once.
import { useState } from "preact/hooks";
import { open_screen } from "../../state/screen";
import { Asked } from "../common/asked";
import { moment, month_words, today_of } from "../common/dates";
import { LeftOut } from "../common/left_out";
import { useDocument } from "../common/use_document";
import { cap } from "../common/words";
import type { Correction, LotLine, Lots } from "../lot_types";
import { Correcting } from "./correcting";
import { Recalling } from "./recalling";

/// A number as it is typed: who looks for a lot means it in small letters too, and with a blank for a hyphen.
const bare = (lot: string): string => lot.toUpperCase().replace(/[^\p{L}\p{N}]/gu, "");

export const to_lot = (lot: string, item: string): string => `#desk/lot?${new URLSearchParams({ lot, item })}`;

function Line({ one, today }: { one: LotLine; today: string }) {
  return (
    <tr class={one.recalled ? "recalled" : undefined}>
      <th scope="row">
        <a href={to_lot(one.lot, one.item)}>{one.lot}</a>
        <small>{`${cap(one.item)}${one.written_as.length ? `, also written ${one.written_as.join(", ")}` : ""}`}</small>
      </th>
      <td>
        {one.recalled && <span class="strong">{`Recalled ${moment(one.recalled.at, today)}: ${one.recalled.called} of ${one.recalled.to_call} called. `}</span>}
        {one.sentence}
      </td>
      <td>{one.used_sets}</td>
      <td>{one.expires ? month_words(one.expires) : ""}</td>
    </tr>
  );
}

function Find({ known }: { known: readonly LotLine[] }) {
  const [text, set_text] = useState("");
  const go = (event: Event): void => {
    event.preventDefault();
    const lot = text.trim();
    const one = known.find((other) => other.lot === lot || other.written_as.includes(lot)) ?? known.find((other) => [other.lot, ...other.written_as].some((name) => bare(name) === bare(lot)));
    if (lot) open_screen("desk/lot", { lot: one?.lot ?? lot, item: one?.item ?? "cells" });
  };
  return (
    <form class="filters" onSubmit={go}>
      <label class="pick search">
        <span>Where is lot</span>
        <input type="search" value={text} list="known-lots" autocomplete="off" maxLength={40} onInput={(event) => set_text(event.currentTarget.value)} />
      </label>
      <datalist id="known-lots">
        {known.slice(0, 400).map((one) => <option key={one.item + one.lot} value={one.lot} />)}
      </datalist>
      <button type="submit" disabled={!text.trim()}>
        Show it
      </button>
    </form>
  );
}

function Table({ lots }: { lots: readonly LotLine[] }) {
  const today = today_of(new Date());
  if (!lots.length) return <p>No lot is known yet. They come with counts, deliveries and changes.</p>;
  return (
    <table class="numbers lots-table">
      <thead>
        <tr>
          <th scope="col">Lot</th>
          <th scope="col">Where it is</th>
          <th scope="col">Sets used</th>
          <th scope="col">Expires</th>
        </tr>
      </thead>
      <tbody>
        {lots.map((one) => <Line key={one.item + one.lot} one={one} today={today} />)}
      </tbody>
    </table>
  );
}

export function LotsPage() {
  const asked = useDocument<Lots>("/lots");
  const corrections = useDocument<{ corrections: Correction[] }>("/lots/corrections");
  const again = (): void => {
    asked.again();
    corrections.again();
  };
  return (
    <>
      <h1 tabIndex={-1}>Lots</h1>
      <Asked asked={asked} what="the lots">
        {({ lots, as_of, left_out }) => (
          <>
            <p class="small">{`As of ${moment(as_of, today_of(new Date()))}.`}</p>
            <LeftOut left_out={left_out} />
            <Find known={lots} />
            <div class="wide-and-narrow">
              <Table lots={lots} />
              <div>
                <Recalling again={again} />
                <Correcting corrections={corrections.got?.corrections ?? []} again={again} />
              </div>
            </div>
          </>
        )}
      </Asked>
    </>
  );
}
