// SPDX-License-Identifier: MIT
// What the house has, in days, and when to order. Cells first and large; the other items a line each.
import type { Forecast, ItemForecast, Lot } from "../api/types";
import type { Desk } from "../state/desk";
import { open_screen } from "../state/screen";
import { may_perhaps } from "../state/session";
import { unit_in_use } from "../state/units";
import { zone_of } from "../time/place";
import { date_words, is_past_or_today } from "../words/moments";
import { after_colon, item_name, lot_words, pieces, place_name } from "../words/names";
import { JustRecorded, Waiting } from "./notes";
import { tell } from "../words/catalogue/first";

function enough_words(item: ItemForecast): string {
  if (item.sentence) return item.sentence;
  if (item.please_count) return tell("stock_card.please_count");
  if (item.quantity === 0) return tell("stock_card.none_in_the_house");
  return item.days ? tell("stock_card.enough_for_days", { count: Math.floor(item.days.p05) }) : tell("stock_card.no_forecast");
}

/// How many there are and when to order, in the service's words where it has them.
function count_words(item: ItemForecast, now: Date, zone: string): string {
  return item.limit ?? `${item.quantity === undefined ? "" : `${pieces(item.quantity, item.item)}.`}${order_words(item, now, zone)}`;
}

function order_words(item: ItemForecast, now: Date, zone: string): string {
  if (!item.order_by || !item.order_quantity) return "";
  const quantity = item.order_quantity;
  return is_past_or_today(item.order_by, now, zone) ? tell("stock_card.order_today", { quantity }) : tell("stock_card.order_by", { quantity, date: date_words(item.order_by) });
}

function lot_line(item: string, lot: Lot): string {
  return [pieces(lot.quantity, item), lot_words(lot.lot), place_name(lot.place), lot.expires && tell("stock_card.expires", { expires: lot.expires }), lot.recalled && tell("stock_card.recalled")].filter(Boolean).join(", ");
}

function All({ stock, now, zone }: { stock: ItemForecast[]; now: Date; zone: string }) {
  return (
    <details>
      <summary>{tell("stock_card.all_that_is_kept_by_lot")}</summary>
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
  return days && days.p95 > days.p05 ? tell("stock_card.between_and_days", { from: Math.floor(days.p05), to: Math.floor(days.p95) }) : "";
}

/// Where there are none: how many to get, should the unit warn on one side or on both.
function Cells({ item, now, zone, a_side }: { item: ItemForecast; now: Date; zone: string; a_side: number | null }) {
  return (
    <>
      <p class="sentence">{enough_words(item)}</p>
      {a_side !== null && <p class="strong">{tell("stock_card.a_change_takes", { cells: a_side, both: 2 * a_side })}</p>}
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
  const { now, waiting, recorded, session } = desk.value;
  const zone = zone_of(forecast);
  const cells = forecast.stock.find((item) => item.item === "cells");
  const others = forecast.stock.filter((item) => item.item !== "cells" && (item.please_count || is_soon(item, now, zone)));
  const on_the_way = waiting.filter((one) => one.about === "stock");
  return (
    <section class={none_usable(forecast) ? "card act" : "card"} data-stock aria-labelledby="stock-name">
      <h2 id="stock-name">{tell("stock_card.cells_in_the_house")}</h2>
      {on_the_way.map((one) => <Waiting key={one.key} intention={one} />)}
      {!on_the_way.length && cells && <Cells item={cells} now={now} zone={zone} a_side={none_usable(forecast) ? (unit_in_use(desk.value.household)?.cells_in_series ?? 2) : null} />}
      {!cells && <p class="sentence">{tell("stock_card.not_counted_yet")}</p>}
      {others.map((item) => (
        <p key={item.item}>{`${item_name(item.item)}: ${after_colon(enough_words(item))} ${count_words(item, now, zone)}`}</p>
      ))}
      {forecast.stock.length > 0 && <All stock={forecast.stock} now={now} zone={zone} />}
      {recorded.filter((one) => one.about === "stock").map((one) => <JustRecorded key={one.entry.id} desk={desk} one={one} />)}
      {may_perhaps(session, "record-use") && (
        <button type="button" class="plain line" onClick={() => open_screen("message")}>
          {tell("stock_card.running_short")}
        </button>
      )}
    </section>
  );
}
