// SPDX-License-Identifier: MIT
// Lots that were in sides: what their sets gave, across homes. Where a lot is now, and recalling it, is the desk's.
import { AskedFor } from "../staff/asked";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import type { LotLine } from "./api";
import { Fresh } from "./fresh";
import { Span, rule_of } from "./span";
import { chance, count, more_words } from "./words";

export function LotsPage(_: { given: Record<string, string> }) {
  const asked = useDocument<{ as_of: string; fresh: boolean; lots: LotLine[] }>("/lots-in-use");
  return (
    <Page title="Lots in use">
      <AskedFor asked={asked}>
        {({ as_of, fresh, lots }) => {
          const rule = rule_of(lots);
          return (
            <>
              {!lots.length && <p class="lead">No set with a noted lot has come out yet. A lot is only ever judged by four sets in two homes or more.</p>}
              {lots.length > 0 && (
                <div class="table-scroll" role="region" aria-label="Lots" tabIndex={0}>
                  <table class="ledger">
                    <caption>How much faster its cells were used up than expected; few sets move it little</caption>
                    <thead>
                      <tr>
                        {["Lot", "Used up faster", "Short", "Seen in", "In words"].map((one) => (
                          <th scope="col" key={one}>
                            {one}
                          </th>
                        ))}
                      </tr>
                    </thead>
                    <tbody>
                      {lots.map((one) => (
                        <tr key={`${one.lot}/${one.cell_type ?? ""}`}>
                          <th scope="row">
                            {one.lot}
                            {one.cell_type && <small>{one.cell_type}</small>}
                          </th>
                          <td>
                            <Span low={one.low_percent} best={one.more_percent} high={one.high_percent} {...rule} />
                            {more_words(one)}
                          </td>
                          <td>{chance(one.short)}</td>
                          <td>
                            {`${count(one.sets, "set")} in ${count(one.households, "home")}`}
                            <small>{one.homes.join(", ")}</small>
                          </td>
                          <td>{one.text}</td>
                        </tr>
                      ))}
                    </tbody>
                  </table>
                </div>
              )}
              <Fresh as_of={as_of} fresh={fresh} />
            </>
          );
        }}
      </AskedFor>
    </Page>
  );
}
