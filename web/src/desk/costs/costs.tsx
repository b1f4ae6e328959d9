// SPDX-License-Identifier: MIT
// "Waste and risk", for the agency alone: what was used and thrown away with charge left, and what another limit of risk
// or another changing time a day would use.
import { useEffect, useState } from "preact/hooks";
import type { Quantiles } from "../../api/types";
import { Asked } from "../common/asked";
import { date_words, today_of } from "../common/dates";
import { LeftOut } from "../common/left_out";
import { useDocument, type Asked as AskedFor } from "../common/use_document";
import { count_of } from "../common/words";
import { Picked } from "../list/filters";
import type { RiskCurve, Waste } from "../lot_types";
import { Curve } from "./curve";
import { Months } from "./months";

type Perhaps<T> = T | { computing: true };
const again_ms = 3_000;

/// The first answer of a day may take a while: it is asked for again until it is there.
function use_computed<T extends object>(path: string): { asked: AskedFor<T>; computing: boolean } {
  const asked = useDocument<Perhaps<T>>(path);
  const computing = Boolean(asked.got && "computing" in asked.got && asked.got.computing);
  useEffect(() => {
    if (!computing || asked.busy) return undefined;
    const timer = setTimeout(asked.again, again_ms);
    return () => clearTimeout(timer);
  }, [computing, asked.busy]);
  return { asked: { ...asked, got: computing ? null : (asked.got as T | null) }, computing };
}

const hundredths = (share: number): string => String(Math.round(share * 100));
export const range = ({ p05, p50, p95 }: Quantiles<number>, say: (n: number) => string = hundredths, unit = "\u00a0%"): string => `${say(p50)}${unit} (${say(p05)} to ${say(p95)}${unit})`.replace(/ /g, "\u00a0");

function Computing() {
  return (
    <p class="computing" role="status">
      <progress aria-label="Being computed" /> It is being computed for the first time today; it appears here by itself.
    </p>
  );
}

function Figures({ got }: { got: Waste }) {
  const { share, cells_worth, sets } = got.thrown_away;
  const rows: [string, string][] = [
    ["Cells used", String(got.cells_used)],
    ["Thrown away with charge left", share ? `${range(share)} of what they held, in ${count_of(sets, "set")}` : "nothing is known of it yet"],
    ...(share && cells_worth ? [["That is worth", `${range(cells_worth, (n) => String(Math.round(n)), "")} cells`] as [string, string]] : []),
    ["Expired in homes", count_of(got.expired_cells, "cell")],
    ["Expired in the agency's own store", count_of(got.store.expired_cells, "cell")],
    ["Thrown away unused, in homes", count_of(got.discarded_cells, "cell")],
    ["Thrown away unused, from the store", count_of(got.store.discarded_cells, "cell")],
  ];
  return (
    <dl class="figures">
      {rows.map(([words, value]) => (
        <div key={words}>
          <dt>{words}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

function Most({ got }: { got: Waste }) {
  if (!got.most.length) return null;
  return (
    <section aria-labelledby="most-name">
      <h3 id="most-name">Where most charge is left</h3>
      <p class="small">A home that changes early may have a reason. Ask before you say anything.</p>
      <ul class="lines">
        {got.most.slice(0, 10).map((one) => (
          <li key={one.household}>
            <a href={`#desk?${new URLSearchParams({ household: one.household })}`}>{one.household}</a>
            {` ${range(one.share)} left, in ${count_of(one.sets, "set")}`}
          </li>
        ))}
      </ul>
    </section>
  );
}

function WasteSection() {
  const [months, set_months] = useState("6");
  const { asked, computing } = use_computed<Waste>(`/costs/waste?months=${months}`);
  return (
    <section aria-labelledby="waste-name">
      <h2 id="waste-name">What was used, and what was thrown away</h2>
      <div class="filters">
        <Picked name="Of the last" value={months} choices={["1", "3", "6", "12"].map((n) => ({ value: n, words: count_of(Number(n), "month") }))} change={set_months} />
      </div>
      {computing ? <Computing /> : (
        <Asked asked={asked} what="the figures">
          {(got) => {
            const today = today_of(new Date());
            return (
              <>
                <p class="desk-sentence">{got.sentence}</p>
                <p class="small">{`${date_words(got.from, today)} to ${date_words(got.to, today)}, ${count_of(got.households, "household")}, ${count_of(got.sets, "set")}${got.unknown_sets ? `; of ${got.unknown_sets} nothing can be said` : ""}. ${got.limit}`}</p>
                <LeftOut left_out={got.left_out} />
                <Figures got={got} />
                <Months months={got.by_month} />
                <Most got={got} />
              </>
            );
          }}
        </Asked>
      )}
    </section>
  );
}

function RiskSection() {
  const { asked, computing } = use_computed<RiskCurve>("/costs/risk-curve");
  return (
    <section aria-labelledby="risk-name">
      <h2 id="risk-name">Risk against sets a year</h2>
      {computing ? <Computing /> : (
        <Asked asked={asked} what="the curve">
          {(got) => (
            <>
              <p class="desk-sentence">{got.sentence}</p>
              <LeftOut left_out={got.left_out} />
              <Curve curve={got} />
              <p class="small">{`${count_of(got.households, "household")}, ${count_of(got.sides, "side")}. ${got.limit}`}</p>
            </>
          )}
        </Asked>
      )}
    </section>
  );
}

export function Costs() {
  return (
    <>
      <h1 tabIndex={-1}>Waste and risk</h1>
      <p class="small">For the agency alone: no page of a household shows it, and no home is asked to run its cells lower.</p>
      <div class="halves">
        <RiskSection />
        <WasteSection />
      </div>
    </>
  );
}

