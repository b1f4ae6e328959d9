// SPDX-License-Identifier: MIT
// Every unit of the agency, the one that draws most above its model first.
import { AskedFor } from "../staff/asked";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import { choose, to } from "../staff/place";
import type { UnitLine } from "./api";
import { Fresh } from "./fresh";
import { Span, rule_of } from "./span";
import { chance, count, more_words } from "./words";

interface Units {
  as_of: string;
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
      <td>{stimulator ?? "not known"}</td>
      <td>{place?.text ?? "not known"}</td>
      <td>
        <Span low={unit.low_percent} best={unit.more_percent} high={unit.high_percent} {...rule} />
        {more_words(unit)}
      </td>
      <td>{draws_too_much === null ? "" : `draws too much: ${chance(draws_too_much)}`}</td>
      <td>{[`${count(sets, "set")} in ${count(homes, "home")}`, faults ? count(faults, "fault") : "", measured ? "measured on the bench" : ""].filter(Boolean).join(", ")}</td>
    </tr>
  );
}

export function UnitsPage({ given }: { given: Record<string, string> }) {
  const asked = useDocument<Units>("/units");
  const wanted = (given["where"] ?? "").trim().toLowerCase();
  return (
    <Page title="Units" beside={<a href={to("bench/measure", { kind: "unit" })}>Measure a unit</a>}>
      <form class="filter" role="search" aria-label="Which unit" onSubmit={(event) => event.preventDefault()}>
        <label class="pick">
          <span>Serial, model or home</span>
          <input type="search" value={given["where"] ?? ""} onInput={(event) => choose("bench/units", { where: event.currentTarget.value })} />
        </label>
      </form>
      <AskedFor asked={asked}>
        {({ as_of, fresh, units }) => {
          const shown = units.filter((one) => !wanted || `${one.serial} ${one.stimulator ?? ""} ${one.place?.text ?? ""}`.toLowerCase().includes(wanted));
          const rule = rule_of(units);
          return (
            <>
              {!shown.length && <p class="lead">{wanted ? "No unit like that." : "No unit is recorded in any home yet."}</p>}
              {shown.length > 0 && (
                <div class="table-scroll" role="region" aria-label="Units" tabIndex={0}>
                  <table class="ledger">
                    <caption>Use over what the settings let expect, each home's own level taken off</caption>
                    <thead>
                      <tr>
                        {["Serial", "Model", "Where it is", "Use over expected", "How probable", "What is known"].map((one) => (
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
