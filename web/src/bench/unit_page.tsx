// SPDX-License-Identifier: MIT
// One unit across households: what it drew in each, where it was, its faults, its values on the bench.
import { AskedFor } from "../staff/asked";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import { to } from "../staff/place";
import { unit_path, type BenchValue, type UnitDocument } from "./api";
import { FindingList } from "./finding_row";
import { Fresh } from "./fresh";
import { LeftOut } from "./left_out";
import { Span, rule_of } from "./span";
import { UnitEvents } from "./unit_events";
import { as_title, day, here, more_words, signed } from "./words";
import { side_href } from "./where";
import { tell } from "../words/catalogue/bench";

function Homes({ unit }: { unit: UnitDocument }) {
  const rule = rule_of(unit.homes_list);
  return (
    <section aria-labelledby="homes">
      <h2 id="homes">{tell("bench.in_each_home_over_the_other")}</h2>
      {unit.homes_list.length ? (
        <div class="table-scroll" role="region" aria-label={tell("bench.the_unit_in_each_home")} tabIndex={0}>
          <table class="ledger">
            <thead>
              <tr>
                <th scope="col">{tell("bench.home")}</th>
                <th scope="col">{tell("bench.difference")}</th>
                <th scope="col">{tell("bench.in_words")}</th>
              </tr>
            </thead>
            <tbody>
              {unit.homes_list.map((one) => (
                <tr key={`${one.household}/${one.side}`}>
                  <th scope="row">
                    <a href={side_href(one.household, one.side)}>{`${one.household}, ${one.side}`}</a>
                  </th>
                  <td>
                    <Span low={one.low_percent} best={one.more_percent} high={one.high_percent} {...rule} />
                    {more_words(one)}
                  </td>
                  <td>{one.text}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      ) : (
        <p class="text">{tell("bench.it_has_been_in_no_home")}</p>
      )}
    </section>
  );
}

function Values({ values }: { values: readonly BenchValue[] }) {
  const figure = (value: number | null, unit: string): string => (value === null ? "" : `${Math.round(value * 100) / 100}\u00a0${unit}`);
  if (!values.length) return <p class="text">{tell("bench.never_measured_its_models_profile_is")}</p>;
  return (
    <div class="table-scroll" role="region" aria-label={tell("bench.values_on_the_bench")} tabIndex={0}>
      <table class="ledger">
        <caption>{tell("bench.measured_values_of_this_serial_number")}</caption>
        <thead>
          <tr>
            <th scope="col">{tell("bench.measured")}</th>
            <th scope="col">{tell("bench.what")}</th>
            <th scope="col" class="figure">
              {tell("bench.profile_says")}
            </th>
            <th scope="col" class="figure">
              {tell("bench.found")}
            </th>
            <th scope="col" class="figure">
              {tell("bench.more")}
            </th>
          </tr>
        </thead>
        <tbody>
          {values.map((one, index) => (
            <tr key={`${one.number}/${index}`}>
              <th scope="row">{day(one.at, here())}</th>
              <td>{[one.amplitude ? tell("bench.at_amplitude", { what: as_title(one.what), amplitude: one.amplitude }) : as_title(one.what), one.side].filter(Boolean).join(", ")}</td>
              <td class="figure">{figure(one.expected, one.unit)}</td>
              <td class="figure">{figure(one.measured, one.unit)}</td>
              <td class="figure">{one.more_percent === null ? "" : signed(one.more_percent)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Sets({ unit }: { unit: UnitDocument }) {
  if (!unit.sets_list.length) return null;
  return (
    <details>
      <summary>{tell("bench.its_sets", { number: unit.sets_list.length })}</summary>
      <div class="table-scroll" role="region" aria-label={tell("bench.sets_in_this_unit")} tabIndex={0}>
        <table class="ledger">
          <thead>
            <tr>
              {[tell("bench.came_out"), tell("bench.where"), tell("bench.cells"), tell("bench.lot"), tell("bench.use_over_expected")].map((one) => (
                <th scope="col" key={one}>
                  {one}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {unit.sets_list.map((one) => (
              <tr key={`${one.household}/${one.side}/${one.number}/${one.to}`}>
                <th scope="row">{day(one.to, here())}</th>
                <td>{`${one.household}, ${one.side}`}</td>
                <td>{one.cell_type ?? tell("bench.not_noted")}</td>
                <td>{one.lot ?? tell("bench.not_noted")}</td>
                <td>{more_words(one)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}

function Whole({ unit, again }: { unit: UnitDocument; again: () => Promise<void> }) {
  return (
    <>
      <LeftOut left_out={unit.left_out} />
      <p class="lead">{unit.text}</p>
      {unit.findings.length > 0 && (
        <section aria-label={tell("bench.findings_of_this_unit")}>
          <FindingList findings={unit.findings} rule={rule_of(unit.findings)} />
        </section>
      )}
      <Homes unit={unit} />
      <div class="two">
        <section aria-labelledby="bench-values">
          <h2 id="bench-values">{tell("bench.on_the_bench")}</h2>
          {unit.profile && <p class="text">{unit.profile.text}</p>}
          <Values values={unit.bench_values} />
        </section>
        <UnitEvents unit={unit} again={again} />
      </div>
      <Sets unit={unit} />
      <Fresh as_of={unit.as_of} fresh={unit.fresh} />
    </>
  );
}

export function UnitPage({ given }: { given: Record<string, string> }) {
  const serial = given["serial"] ?? "";
  const asked = useDocument<UnitDocument>(unit_path(serial));
  return (
    <Page title={tell("bench.unit_named", { serial })} above={{ words: tell("bench.units"), href: to("bench/units") }} beside={<a href={to("bench/measure", { kind: "unit", serial })}>{tell("bench.note_measurements")}</a>}>
      <AskedFor asked={asked}>{(unit) => <Whole unit={unit} again={asked.again} />}</AskedFor>
    </Page>
  );
}
