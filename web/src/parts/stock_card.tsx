// SPDX-License-Identifier: MIT
// What the house has, in days, and when to order. Cells first and large; the other items a line each.
import type { Forecast, ItemForecast, Lot } from "../api/types";
import type { Desk } from "../state/desk";
import { zone_of } from "../time/place";
import { date_words, is_past_or_today } from "../words/moments";
import { after_colon, item_name, lot_words, pieces } from "../words/names";
import { JustRecorded, Waiting } from "./notes";

function enough_words(item: ItemForecast): string {
  if (item.sentence) return item.sentence;
  if (item.please_count) return "Please count.";
  if (item.quantity === 0) return "None in the house.";
  return item.days ? `Enough for ${Math.floor(item.days.p05)} days.` : "No forecast.";
}

/// How many there are and when to order, in the service's words where it has them.
function count_words(item: ItemForecast, now: Date, zone: string): string {
  return item.limit ?? `${item.quantity === undefined ? "" : `${pieces(item.quantity, item.item)}.`}${order_words(item, now, zone)}`;
}

function order_words(item: ItemForecast, now: Date, zone: string): string {
  if (!item.order_by || !item.order_quantity) return "";
  const when = is_past_or_today(item.order_by, now, zone) ? "today" : `by ${date_words(item.order_by)}`;
  return ` Order ${item.order_quantity} ${when}.`;
}

function lot_line(item: string, lot: Lot): string {
  return [pieces(lot.quantity, item), lot_words(lot.lot), lot.place, lot.expires && `expires ${lot.expires}`].filter(Boolean).join(", ");
}

function All({ stock, now, zone }: { stock: ItemForecast[]; now: Date; zone: string }) {
  return (
    <details>
      <summary>All that is kept, by lot and place</summary>
      {stock.map((item) => (
        <div class="item" key={item.item}>
          <h3>{item_name(item.item)}</h3>
          <p>{`${enough_words(item)}${range_words(item)} ${count_words(item, now, zone)}`}</p>
          <ul>
            {item.lots?.map((lot) => <li key={`${lot.lot}${lot.place}`}>{lot_line(item.item, lot)}</li>)}
          </ul>
        </div>
      ))}
    </details>
  );
}

function range_words({ days }: ItemForecast): string {
  return days && days.p95 > days.p05 ? ` Between ${Math.floor(days.p05)} and ${Math.floor(days.p95)} days.` : "";
}

function Cells({ item, now, zone }: { item: ItemForecast; now: Date; zone: string }) {
  return (
    <>
      <p class="sentence">{enough_words(item)}</p>
      <p>{count_words(item, now, zone)}</p>
    </>
  );
}

const soon_days = 14;

function is_soon(item: ItemForecast, now: Date, zone: string): boolean {
  return Boolean(item.order_by) && is_past_or_today(item.order_by ?? "", new Date(now.getTime() + soon_days * 86_400_000), zone);
}

export function none_usable(forecast: Forecast): boolean {
  const cells = forecast.stock.find((item) => item.item === "cells");
  return cells !== undefined && (cells.usable ?? cells.quantity ?? 1) <= 0;
}

export function StockCard({ desk, forecast }: { desk: Desk; forecast: Forecast }) {
  const { now, waiting, recorded } = desk.value;
  const zone = zone_of(forecast);
  const cells = forecast.stock.find((item) => item.item === "cells");
  const others = forecast.stock.filter((item) => item.item !== "cells" && (item.please_count || is_soon(item, now, zone)));
  const on_the_way = waiting.filter((one) => one.about === "stock");
  return (
    <section class={none_usable(forecast) ? "card act" : "card"} data-stock aria-labelledby="stock-name">
      <h2 id="stock-name">Cells in the house</h2>
      {on_the_way.map((one) => <Waiting key={one.key} intention={one} />)}
      {!on_the_way.length && cells && <Cells item={cells} now={now} zone={zone} />}
      {!cells && <p class="sentence">Not counted yet.</p>}
      {others.map((item) => (
        <p key={item.item}>{`${item_name(item.item)}: ${after_colon(enough_words(item))} ${count_words(item, now, zone)}`}</p>
      ))}
      {forecast.stock.length > 0 && <All stock={forecast.stock} now={now} zone={zone} />}
      {recorded.filter((one) => one.about === "stock").map((one) => <JustRecorded key={one.entry.id} desk={desk} one={one} />)}
    </section>
  );
}
