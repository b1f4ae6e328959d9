// SPDX-License-Identifier: MIT
// What to take along for a stay away, as the service worked it out.
import type { Packing } from "../api/types";
import { lot_words, pieces, place_name } from "../words/names";
import { tell } from "../words/catalogue/first";

function missing_words(missing?: number): string {
  return missing ? tell("packing_list.more_than_the_house_has", { missing }) : "";
}

export function PackingList({ packing }: { packing: Packing }) {
  const { sets, take, other } = packing;
  const as_sets = sets ? tell("packing_list.as_sets", { count: sets }) : "";
  return (
    <div class="packing">
      <p class="strong">{tell("packing_list.pack")}</p>
      <ul>
        <li>{`${pieces(packing.cells, "cells")}${as_sets}${missing_words(packing.missing)}`}</li>
        {take?.map((lot) => (
          <li key={`${lot.lot}${lot.place}`}>{tell("packing_list.of_these", { quantity: lot.quantity, value: [lot_words(lot.lot), place_name(lot.place)].filter(Boolean).join(", ") })}</li>
        ))}
        {other?.map((one) => <li key={one.item}>{`${pieces(one.quantity, one.item)}${missing_words(one.missing)}`}</li>)}
      </ul>
      {packing.odds_text && <p>{packing.odds_text}</p>}
    </div>
  );
}
