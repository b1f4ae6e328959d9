// SPDX-License-Identifier: MIT
// Antennas and other parts that wear: who is due, with ranges; and recording that a new one was taken into use.
import { AskedFor } from "../staff/asked";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import { item_name } from "../words/names";
import type { DuePart, WearOfKind } from "./api";
import { empty_words, type AsOf } from "./fresh";
import { PartForm } from "./part_form";
import { Span } from "./span";
import { chance, day, here } from "./words";
import { tell } from "../words/catalogue/bench";

const day_ms = 86_400_000;
const days_from = (as_of: string, date: string): number => (Date.parse(date) - Date.parse(as_of)) / day_ms;

function Due({ due, as_of, to }: { due: DuePart; as_of: string; to: number }) {
  const [first, half] = [days_from(as_of, due.due_on), days_from(as_of, due.expected_on)];
  return (
    <tr>
      <th scope="row">{due.household}</th>
      <td>{due.side ? `${item_name(due.part)}, ${due.side}` : item_name(due.part)}</td>
      <td>{tell("bench.since_and_days", { when: day(due.in_use_since, here()), days: Math.round(due.days_in_use) })}</td>
      <td>
        <Span low={first} best={first} high={half} from={-14} to={to} />
        <span class="when">{tell("bench.span_of_days", { from: day(due.due_on, here()), to: day(due.expected_on, here()) })}</span>
      </td>
      <td class="figure">{chance(due.worn_out_in_30_days)}</td>
      <td>{due.text}</td>
    </tr>
  );
}

function Kind({ kind, as_of }: { kind: WearOfKind; as_of: string }) {
  const { fit, due } = kind;
  const to = Math.max(60, ...due.map((one) => days_from(as_of, one.expected_on)));
  return (
    <section aria-label={item_name(kind.kind)}>
      <h2>{item_name(kind.kind)}</h2>
      <p class="text">{kind.text}</p>
      {fit && (
        <p class="small">
          {tell("bench.weibull_shape_to_half_last_days", { shape: fit.shape.toFixed(1), low: fit.shape_low.toFixed(1), high: fit.shape_high.toFixed(1), days: Math.round(fit.median_days), worn_out: kind.worn_out, in_all: kind.in_all })}
        </p>
      )}
      {due.length > 0 ? (
        <div class="table-scroll" role="region" aria-label={tell("bench.who_is_due", { part: item_name(kind.kind) })} tabIndex={0}>
          <table class="ledger who-due">
            <caption>{tell("bench.from_the_day_on_which_5")}</caption>
            <thead>
              <tr>
                <th scope="col">{tell("bench.home")}</th>
                <th scope="col">{tell("bench.part")}</th>
                <th scope="col">{tell("bench.in_use_since")}</th>
                <th scope="col">{tell("bench.due")}</th>
                <th scope="col" class="figure">
                  {tell("bench.within_30_days")}
                </th>
                <th scope="col">{tell("bench.in_words")}</th>
              </tr>
            </thead>
            <tbody>{due.map((one) => <Due key={`${one.household}/${one.part}/${one.side}/${one.in_use_since}`} due={one} as_of={as_of} to={to} />)}</tbody>
          </table>
        </div>
      ) : (
        <p class="text">{fit ? tell("bench.none_is_in_use_now") : tell("bench.too_few_have_worn_out_to")}</p>
      )}
    </section>
  );
}

export function WearPage(_: { given: Record<string, string> }) {
  const asked = useDocument<{ as_of: AsOf; kinds: WearOfKind[] }>("/wear");
  return (
    <Page title={tell("bench.worn_parts")}>
      <AskedFor asked={asked}>
        {({ as_of, kinds }) => (
          <>
            {!kinds.length && <p class="lead">{empty_words(as_of, tell("bench.no_antenna_or_other_part_was"))}</p>}
            {as_of !== null && kinds.map((one) => <Kind key={one.kind} kind={one} as_of={as_of} />)}
            <PartForm again={asked.again} />
          </>
        )}
      </AskedFor>
    </Page>
  );
}
