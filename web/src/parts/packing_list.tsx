// SPDX-License-Identifier: MIT
// What to take along for a stay away, as the service worked it out.
import type { Packing } from "../api/types";
import { pieces } from "../words/names";

export function PackingList({ packing }: { packing: Packing }) {
  const { sets } = packing;
  return (
    <div class="packing">
      <p class="strong">Pack</p>
      <ul>
        <li>{pieces(packing.cells, "cells") + (sets ? `, as ${sets} ${sets === 1 ? "set" : "sets"}, each of one lot` : "")}</li>
        {packing.other?.map((other) => <li key={other.item}>{pieces(other.quantity, other.item)}</li>)}
      </ul>
      {packing.odds_text && <p>{packing.odds_text}</p>}
    </div>
  );
}
