// SPDX-License-Identifier: MIT
// Every unit of the agency, the one that draws most above its model first.
import { AskedFor } from "../staff/asked";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import { choose, to } from "../staff/place";
import type { UnitLine } from "./api";
import { Fresh, empty_words, type AsOf } from "./fresh";
import { LeftOut, type LeavesOut } from "./left_out";
import { Span, rule_of } from "./span";
import { chance, count, more_words } from "./words";
import { tell } from "../words/catalogue/bench";

interface Units extends LeavesOut {
  as_of: AsOf;
  fresh: boolean;
  units: UnitLine[];
}

function Row({ unit, rule }: { unit: UnitLine; rule: { from: number; to: number } }) {
  const { serial, stimulator, place, homes, sets, faults, draws_too_much, measured } = unit;
  return (
    <tr>
      <th scope="row">
        <a href={to("bench/unit", { serial })}>{serial}</a>
      </th>
      <td>{stimulator ?? tell("bench.not_known")}</td>
      <td>{place?.text ?? tell("bench.not_known")}</td>
      <td>
        <Span low={unit.low_percent} best={unit.more_percent} high={unit.high_percent} {...rule} />
        <span class="more">{more_words(unit)}</span>
      </td>
      <td>{draws_too_much === null ? "" : tell("bench.draws_too_much", { chance: chance(draws_too_much) })}</td>
      <td>{[tell("bench.sets_in_homes", { sets: count(sets, "set"), homes: count(homes, "home") }), faults ? count(faults, "fault") : "", measured ? tell("bench.measured_on_the_bench") : ""].filter(Boolean).join(", ")}</td>
    </tr>
  );
}

export function UnitsPage({ given }: { given: Record<string, string> }) {
  const asked = useDocument<Units>("/units");
  const wanted = (given["where"] ?? "").trim().toLowerCase();
  return (
    <Page title={tell("bench.units")} beside={<a href={to("bench/measure", { kind: "unit" })}>{tell("bench.measure_a_unit")}</a>}>
      <form class="filter" role="search" aria-label={tell("bench.which_unit")} onSubmit={(event) => event.preventDefault()}>
        <label class="pick">
          <span>{tell("bench.serial_model_or_home")}</span>
          <input type="search" value={given["where"] ?? ""} onInput={(event) => choose("bench/units", { where: event.currentTarget.value })} />
        </label>
      </form>
      <AskedFor asked={asked}>
        {({ as_of, fresh, units, left_out }) => {
          const shown = units.filter((one) => !wanted || `${one.serial} ${one.stimulator ?? ""} ${one.place?.text ?? ""}`.toLowerCase().includes(wanted));
          const rule = rule_of(units);
          return (
            <>
              <LeftOut left_out={left_out} />
              {!shown.length && <p class="lead">{empty_words(as_of, wanted ? tell("bench.no_unit_like_that") : tell("bench.no_unit_is_recorded_in_any"))}</p>}
              {shown.length > 0 && (
                <div class="table-scroll" role="region" aria-label={tell("bench.units")} tabIndex={0}>
                  <table class="ledger">
                    <caption>{tell("bench.use_over_what_the_settings_let_2")}</caption>
                    <thead>
                      <tr>
                        {[tell("bench.serial"), tell("bench.model"), tell("bench.where_it_is"), tell("bench.use_over_expected"), tell("bench.how_probable"), tell("bench.what_is_known")].map((one) => (
                          <th scope="col" key={one}>
                            {one}
                          </th>
                        ))}
                      </tr>
                    </thead>
                    <tbody>{shown.map((one) => <Row key={one.serial} unit={one} rule={rule} />)}</tbody>
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
