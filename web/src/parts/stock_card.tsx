// SPDX-License-Identifier: MIT
// What the house has, in days, and when to order. Cells first and large; the other items a line each.
import type { Forecast, ItemForecast } from "../api/types";
import type { Desk } from "../state/desk";
import { date_words, is_past_or_today } from "../words/moments";
import { item_name, lot_words, pieces } from "../words/names";
import { JustRecorded, Waiting } from "./notes";

function enough_words(item: ItemForecast): string {
  if (item.sentence) return item.sentence;
  if (item.please_count) return "Please count.";
  if (item.quantity === 0) return "None in the house.";
  return item.days ? `Enough for ${Math.floor(item.days.p50)} days.` : "No forecast.";
}

function order_words(item: ItemForecast, now: Date, zone: string): string {
  if (!item.order_by || !item.order_quantity) return "";
  const when = is_past_or_today(item.order_by, now, zone) ? "today" : `by ${date_words(item.order_by)}`;
  return ` Order ${item.order_quantity} ${when}.`;
}

function Lots({ item }: { item: ItemForecast }) {
  if (!item.lots?.length) return null;
  return (
    <details>
      <summary>Lots and places</summary>
      <ul class="lots">
        {item.lots.map((lot) => (
          <li key={`${lot.lot}${lot.place}`}>
            {[pieces(lot.quantity, item.item), lot_words(lot.lot), lot.place, lot.expires && `expires ${lot.expires}`].filter(Boolean).join(", ")}
          </li>
        ))}
      </ul>
    </details>
  );
}

function Cells({ item, now, zone }: { item: ItemForecast; now: Date; zone: string }) {
  const days = item.days;
  const range = days && days.p95 > days.p05 ? ` Between ${Math.floor(days.p05)} and ${Math.floor(days.p95)} days.` : "";
  return (
    <>
      <p class="sentence">{enough_words(item)}</p>
      <p>{`${item.quantity === undefined ? "" : `${pieces(item.quantity, "cells")}.`}${order_words(item, now, zone)}`}</p>
      {range && <p class="small">{range.trim()}</p>}
      <Lots item={item} />
    </>
  );
}

export function StockCard({ desk, forecast }: { desk: Desk; forecast: Forecast }) {
  const { now, waiting, recorded } = desk.value;
  const { zone } = forecast;
  const cells = forecast.stock.find((item) => item.item === "cells");
  const others = forecast.stock.filter((item) => item.item !== "cells");
  const on_the_way = waiting.filter((one) => one.about === "stock");
  const none = cells !== undefined && (cells.quantity ?? 1) <= 0;
  return (
    <section class={none ? "card act" : "card"} data-stock aria-labelledby="stock-name">
      <h2 id="stock-name">Cells in the house</h2>
      {on_the_way.map((one) => <Waiting key={one.key} intention={one} />)}
      {!on_the_way.length && cells && <Cells item={cells} now={now} zone={zone} />}
      {!cells && <p class="sentence">Not counted yet.</p>}
      {others.length > 0 && (
        <ul class="others">
          {others.map((item) => (
            <li key={item.item}>{`${item_name(item.item)}: ${enough_words(item)}${order_words(item, now, zone)}`}</li>
          ))}
        </ul>
      )}
      {recorded.filter((one) => one.about === "stock").map((one) => <JustRecorded key={one.entry.id} desk={desk} one={one} />)}
    </section>
  );
}
