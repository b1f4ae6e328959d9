// SPDX-License-Identifier: MIT
// What cannot wait, above the list: each kind of it with its households, the most urgent first.
import type { Attention, BoardRow } from "../board_types";
import { date_words, moment } from "../common/dates";
import { about_words, attention_words } from "../common/words";
import { with_attention } from "./view";

interface Props {
  rows: readonly BoardRow[];
  today: string;
  where_to: (household: string) => string;
  show: (what: Attention) => void;
}

const kinds: readonly Attention[] = ["no_answer", "did_not_come", "message", "does_not_reach", "cannot_be_served", "no_area", "no_forecast", "closed_with_open"];
const shown = 3;

function what_of(row: BoardRow, kind: Attention, today: string): string {
  if (kind === "no_answer") {
    const late = row.deliveries.find((one) => one.state === "no_answer");
    return late ? `of ${date_words(late.date, today)}: received? Call` : "Received? Call";
  }
  if (kind === "did_not_come") {
    const missed = row.deliveries.find((one) => one.state === "not_received");
    return missed ? `of ${date_words(missed.date, today)}. Plan it anew` : "Plan it anew";
  }
  if (kind === "closed_with_open" && row.deliveries[0]) return `delivery of ${date_words(row.deliveries[0].date, today)}: did it come? It comes back`;
  const message = kind === "closed_with_open" || kind === "message" ? row.messages.find((one) => !one.seen_at) : null;
  if (message) return `${about_words[message.about]}, ${moment(message.at, today)}. Call`;
  if (kind === "no_area") return "Give it an area: rounds cannot bring it anything";
  if (kind === "no_forecast") return "Not in any plan: ask what it has";
  if (!row.deliver_by) return "";
  const by = `by ${date_words(row.deliver_by, today)}`;
  return kind === "does_not_reach" && row.next_round ? `${by}, round ${date_words(row.next_round.date, today)}` : by;
}

function Kind({ kind, found, today, where_to, show }: Omit<Props, "rows"> & { kind: Attention; found: BoardRow[] }) {
  return (
    <div class="first-kind">
      <h3>
        {attention_words[kind]} <span class="how-many">{found.length}</span>
      </h3>
      <ul>
        {found.slice(0, shown).map((row) => (
          <li key={row.household}>
            <a href={where_to(row.household)}>{row.household}</a>
            <span>{` ${what_of(row, kind, today)}`}</span>
          </li>
        ))}
      </ul>
      {found.length > shown && (
        <button type="button" class="plain" onClick={() => show(kind)}>
          {`All ${found.length} in the list`}
          <span class="unseen">{`: ${attention_words[kind]}`}</span>
        </button>
      )}
    </div>
  );
}

export function First(props: Props) {
  const found = kinds.map((kind) => ({ kind, found: with_attention(props.rows, kind) })).filter((one) => one.found.length > 0);
  if (!found.length) return <p class="first-none">Nothing waits: no delivery without an answer, no message not seen, no household that by its forecast does not reach the next round, none that no plan has.</p>;
  return (
    <section class="first" aria-labelledby="first-name">
      <h2 id="first-name">First</h2>
      <div class="first-kinds">
        {found.map((one) => <Kind key={one.kind} {...props} {...one} />)}
      </div>
    </section>
  );
}
