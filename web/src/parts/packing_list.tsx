// SPDX-License-Identifier: MIT
// What to take along for a stay away, as the service worked it out.
import type { Packing } from "../api/types";
import { lot_words, pieces } from "../words/names";

function missing_words(missing?: number): string {
  return missing ? ` (${missing} more than the house has)` : "";
}

export function PackingList({ packing }: { packing: Packing }) {
  const { sets, take, other } = packing;
  const as_sets = sets ? `, as ${sets} ${sets === 1 ? "set" : "sets"}, each of one lot` : "";
  return (
    <div class="packing">
      <p class="strong">Pack</p>
      <ul>
        <li>{`${pieces(packing.cells, "cells")}${as_sets}${missing_words(packing.missing)}`}</li>
        {take?.map((lot) => (
          <li key={`${lot.lot}${lot.place}`}>{`of these ${lot.quantity}: ${[lot_words(lot.lot), lot.place].filter(Boolean).join(", ")}`}</li>
        ))}
        {other?.map((one) => <li key={one.item}>{`${pieces(one.quantity, one.item)}${missing_words(one.missing)}`}</li>)}
      </ul>
      {packing.odds_text && <p>{packing.odds_text}</p>}
    </div>
  );
}
