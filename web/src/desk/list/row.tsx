// SPDX-License-Identifier: MIT
// One household in the list: tonight's two windows, who it is, what it needs by when, the round that brings it, the age
// of the last count, and what the home said.
import { useMemo } from "preact/hooks";
import { Window } from "../../parts/window";
import type { WindowState } from "../../api/types";
import { tell } from "../../words/catalogue/staff";
import { window_words } from "../../words/names";
import { waits_for_count } from "../household/asking";
import { both, type BoardDelivery, type BoardRow, type BoardSide, type ItemNeed, type Message } from "../board_types";
import { clock_of, date_words, days_since, from_today, moment } from "../common/dates";
import { about_words, delivery_words, of_item, packs } from "../common/words";

interface Props {
  row: BoardRow;
  index: number;
  today: string;
  open: boolean;
  ask: (household: string) => void;
  where_to: string;
}

const phrase_short: Record<BoardSide["phrase"], string> = {
  expected_to_last_tonight: "expected to last tonight", change_before_tonight: "change before tonight", change_now: "change now", no_forecast: "no forecast",
};

const old_after_ms = 12 * 3_600_000;
const is_old = ({ computed_at }: BoardRow): boolean => computed_at !== null && Date.now() - Date.parse(computed_at) > old_after_ms;

function side_words(side: BoardSide | null, old: boolean): string {
  if (!side) return "not computed yet";
  if (side.warned_at) return "the unit warned";
  if (side.stopped_at) return "recorded as stopped";
  if (old) return tell("staff.old_forecast");
  return side.tonight ? `${window_words[side.tonight]} to last tonight` : phrase_short[side.phrase];
}

const window_of = (side: BoardSide | null, old: boolean): WindowState | null => (side && !old && !side.warned_at && !side.stopped_at ? (side.tonight ?? null) : null);

/// The house by night: a window a side where there is a forecast to draw, and none of one that is too old to go by.
export function Front({ row }: { row: BoardRow }) {
  const old = is_old(row);
  return (
    <span class="front">
      {both.map((side) => {
        const state = window_of(row[side], old);
        return state ? <Window key={side} side={side} state={state} tonight /> : <span class="no-window" key={side} aria-hidden="true" />;
      })}
      <span class="unseen">{both.map((side) => `${side}: ${side_words(row[side], old)}`).join("; ")}</span>
    </span>
  );
}

/// A side that asks for something is said in words as well.
function Sides({ row }: { row: BoardRow }) {
  const old = is_old(row);
  const said = both.filter((side) => row[side] && (old || row[side].phrase !== "expected_to_last_tonight")).map((side) => `${side}: ${side_words(row[side], old)}`);
  return said.length ? <small>{said.join("; ")}</small> : null;
}

function need_words({ item, pieces, packs: count, please_count }: ItemNeed): string {
  return please_count ? `${item}: please count` : `${of_item(pieces, item)}, ${packs(count)}`;
}

function Needs({ row, today }: { row: BoardRow; today: string }) {
  if (row.closed_at) return <span>Nothing: it is closed</span>;
  const due = row.items.filter((one) => one.deliver_by !== null).sort((a, b) => (a.deliver_by ?? "").localeCompare(b.deliver_by ?? ""));
  const [first, ...rest] = due;
  if (!first?.deliver_by) return <span>{row.computed_at ? "Nothing within the weeks planned" : "Being computed…"}</span>;
  return (
    <>
      <b>{date_words(first.deliver_by, today)}</b>
      <span>{` ${from_today(first.deliver_by, today)}`}</span>
      <small>{[need_words(first), ...rest.map((one) => `${one.item} by ${date_words(one.deliver_by ?? "", today)}`)].join("; ")}</small>
    </>
  );
}

function Round({ row, today }: { row: BoardRow; today: string }) {
  const deliveries = row.deliveries.map((one) => <small key={one.round + one.state}>{delivery_line(one, today)}</small>);
  if (row.closed_at) {
    return (
      <>
        <span>{`Closed ${moment(row.closed_at, today)}`}</span>
        {deliveries}
      </>
    );
  }
  if (!row.area) return <span class="strong">No area yet</span>;
  if (!row.next_round) return <span>No round in the calendar</span>;
  return (
    <>
      <span class={row.reaches_next_round === false ? "strong" : undefined}>
        {row.reaches_next_round === false ? "Does not reach " : "Next round "}
        {date_words(row.next_round.date, today)}
      </span>
      {deliveries}
      {row.cannot_be_served.length > 0 && <small>The plan cannot serve it in time</small>}
    </>
  );
}

function delivery_line({ date, state, since }: BoardDelivery, today: string): string {
  const when = date_words(date, today);
  return state === "no_answer" ? `Delivery of ${when}: no answer since ${moment(since, today)}` : `Delivery of ${when}: ${delivery_words[state]}`;
}

function Count({ row, today, ask }: Pick<Props, "row" | "today" | "ask">) {
  const days = row.last_count_at ? days_since(row.last_count_at, today) : null;
  const old = row.attention.includes("count_is_old");
  const asked_at = waits_for_count(row, today);
  return (
    <>
      <span>{days === null ? "Never counted" : days <= 0 ? "Counted today" : days === 1 ? "Counted yesterday" : `Counted ${days} days ago`}</span>
      {asked_at ? (
        <small>{`Asked ${moment(asked_at, today)}`}</small>
      ) : (
        old && (
          <button type="button" class="small-act" onClick={() => ask(row.household)}>
            Ask<span class="unseen">{`${row.household} for a count`}</span>
          </button>
        )
      )}
    </>
  );
}

export function message_words({ about, at, seen_at }: Message, today: string): string {
  const what = `${about_words[about]}, ${moment(at, today)}`;
  return seen_at ? `${what}: seen by the agency at ${clock_of(seen_at)}` : `${what}: not seen. Call`;
}

/// Drawn again only when something of it has changed.
export function Row(props: Props) {
  const { row, index, today, open, where_to } = props;
  const old = is_old(row);
  return useMemo(() => drawn(props), [row, index, today, open, where_to, old]);
}

function drawn({ row, index, today, open, ask, where_to }: Props) {
  return (
    <div role="row" class={open ? "who-row open" : "who-row"} aria-rowindex={index + 2}>
      <div role="cell" class="who-front">
        <Front row={row} />
      </div>
      <div role="rowheader" class="who-name">
        <a href={where_to} data-row={index} aria-current={open ? "true" : undefined}>
          {row.household}
        </a>
        <small>{[row.area ?? "no area", row.stop].filter(Boolean).join(", ")}</small>
      </div>
      <div role="cell" class="who-need">
        <Needs row={row} today={today} />
        <Sides row={row} />
      </div>
      <div role="cell" class="who-round">
        <Round row={row} today={today} />
      </div>
      <div role="cell" class="who-count">
        <Count row={row} today={today} ask={ask} />
        {row.messages.slice(0, 2).map((one) => (
          <small key={one.entry} class={one.seen_at ? undefined : "strong"}>
            {message_words(one, today)}
          </small>
        ))}
      </div>
    </div>
  );
}
