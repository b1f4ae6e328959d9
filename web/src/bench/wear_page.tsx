// SPDX-License-Identifier: MIT
// Antennas and other parts that wear: who is due, with ranges; and recording that a new one was taken into use.
import { AskedFor } from "../staff/asked";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import { item_name } from "../words/names";
import type { DuePart, WearOfKind } from "./api";
import { PartForm } from "./part_form";
import { Span } from "./span";
import { chance, day, here } from "./words";

const day_ms = 86_400_000;
const days_from = (as_of: string, date: string): number => (Date.parse(date) - Date.parse(as_of)) / day_ms;

function Due({ due, as_of, to }: { due: DuePart; as_of: string; to: number }) {
  const [first, half] = [days_from(as_of, due.due_on), days_from(as_of, due.expected_on)];
  return (
    <tr>
      <th scope="row">{due.household}</th>
      <td>{due.part}</td>
      <td>{`${day(due.in_use_since, here())}, ${Math.round(due.days_in_use)} days`}</td>
      <td>
        <Span low={first} best={first} high={half} from={-14} to={to} />
        {`${day(due.due_on, here())} to ${day(due.expected_on, here())}`}
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
          {`Weibull: shape ${fit.shape.toFixed(1)} (${fit.shape_low.toFixed(1)} to ${fit.shape_high.toFixed(1)}), half last ${Math.round(fit.median_days)} days; ${kind.worn_out} of ${kind.in_all} worn out, the others still count as lasting at least so long.`}
        </p>
      )}
      {due.length > 0 ? (
        <div class="table-scroll" role="region" aria-label={`${item_name(kind.kind)}: who is due`} tabIndex={0}>
          <table class="ledger">
            <caption>From the day on which 5 in 100 such parts have worn out, to the day on which half have; the upright is today</caption>
            <thead>
              <tr>
                <th scope="col">Home</th>
                <th scope="col">Part</th>
                <th scope="col">In use since</th>
                <th scope="col">Due</th>
                <th scope="col" class="figure">
                  Within 30 days
                </th>
                <th scope="col">In words</th>
              </tr>
            </thead>
            <tbody>{due.map((one) => <Due key={`${one.household}/${one.part}/${one.in_use_since}`} due={one} as_of={as_of} to={to} />)}</tbody>
          </table>
        </div>
      ) : (
        <p class="text">{fit ? "None is in use now." : "Too few have worn out to say when one is due. Follow the maker's instructions."}</p>
      )}
    </section>
  );
}

export function WearPage(_: { given: Record<string, string> }) {
  const asked = useDocument<{ as_of: string; kinds: WearOfKind[] }>("/wear");
  return (
    <Page title="Worn parts">
      <AskedFor asked={asked}>
        {({ as_of, kinds }) => (
          <>
            {!kinds.length && <p class="lead">No antenna or other part was recorded yet. From when one is taken into use until it is worn out, its life is counted.</p>}
            {kinds.map((one) => <Kind key={one.kind} kind={one} as_of={as_of} />)}
            <PartForm again={asked.again} />
          </>
        )}
      </AskedFor>
    </Page>
  );
}
