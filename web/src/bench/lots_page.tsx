// SPDX-License-Identifier: MIT
// Lots that were in sides: what their sets gave, across homes. Where a lot is now, and recalling it, is the desk's.
import { AskedFor } from "../staff/asked";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import type { LotLine } from "./api";
import { Fresh, empty_words, type AsOf } from "./fresh";
import { LeftOut, type LeavesOut } from "./left_out";
import { Span, rule_of } from "./span";
import { chance, count, more_words } from "./words";
import { tell } from "../words/catalogue/bench";

export function LotsPage(_: { given: Record<string, string> }) {
  const asked = useDocument<{ as_of: AsOf; fresh: boolean; lots: LotLine[] } & LeavesOut>("/lots-in-use");
  return (
    <Page title={tell("bench.lots_in_use")}>
      <AskedFor asked={asked}>
        {({ as_of, fresh, lots, left_out }) => {
          const rule = rule_of(lots);
          return (
            <>
              <LeftOut left_out={left_out} />
              {!lots.length && <p class="lead">{empty_words(as_of, tell("bench.no_set_with_a_noted_lot"))}</p>}
              {lots.length > 0 && (
                <div class="table-scroll" role="region" aria-label={tell("bench.lots")} tabIndex={0}>
                  <table class="ledger">
                    <caption>{tell("bench.how_much_faster_its_cells_were")}</caption>
                    <thead>
                      <tr>
                        {[tell("bench.lot"), tell("bench.used_up_faster"), tell("bench.short"), tell("bench.seen_in"), tell("bench.in_words")].map((one) => (
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
                            <span class="more">{more_words(one)}</span>
                          </td>
                          <td>{chance(one.short)}</td>
                          <td>
                            {tell("bench.sets_in_homes", { sets: count(one.sets, "set"), homes: count(one.households, "home") })}
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
