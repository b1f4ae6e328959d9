// SPDX-License-Identifier: MIT
// What is in the house by lot and place, and the units.
import type { Forecast } from "../../api/types";
import { item_name, lot_words } from "../../words/names";
import { month_words } from "../common/dates";
import { of_item } from "../common/words";
import type { HouseholdDesk } from "../board_types";

export function Stock({ desk, forecast }: { desk: HouseholdDesk; forecast: Forecast | null }) {
  const { stock, units } = desk;
  return (
    <section aria-labelledby="stock-name">
      <h3 id="stock-name">In the house</h3>
      {forecast?.stock.map((one) => one.sentence && <p key={one.item}>{`${item_name(one.item)}: ${one.sentence}`}</p>)}
      {stock.length === 0 && <p>{desk.row.last_count_at ? "Nothing that was counted or received is left, as reckoned." : "Nothing was received or counted yet."}</p>}
      {stock.length > 0 && (
        <details>
          <summary>By lot and place</summary>
          <ul>
            {stock.map((one) => (
              <li key={`${one.item}${one.lot}${one.place}`}>
                {[of_item(one.pieces, one.item), lot_words(one.lot), one.place, one.expires && `expires ${month_words(one.expires)}`].filter(Boolean).join(", ")}
                {one.item === "cells" && one.lot && (
                  <>
                    {" "}
                    <a href={`#desk/lot?${new URLSearchParams({ lot: one.lot, item: one.item })}`}>{`Where lot ${one.lot} is`}</a>
                  </>
                )}
              </li>
            ))}
          </ul>
        </details>
      )}
      {units.length > 0 && <p class="small">{units.map((one) => `Unit ${one.serial}${one.stimulator ? `, ${one.stimulator}` : ""}`).join("; ")}.</p>}
    </section>
  );
}
