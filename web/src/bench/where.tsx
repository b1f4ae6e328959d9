// SPDX-License-Identifier: MIT
// Where a finding is: a home's side, a unit, a lot, with the way to its page.
import type { Finding, Scope } from "./api_findings";
import { scope_words } from "./words";
import { to } from "../staff/place";
import { tell } from "../words/catalogue/bench";

const of_a_unit: readonly string[] = ["unit_eats_cells", "gauge_disagrees"];

export function side_href(household: string, side: string): string {
  return to("bench/side", { household, side });
}

/// In words, for a search and for a title.
export function where_words({ household, scope, subject, kind, homes }: Finding): string {
  const thing = subject && (of_a_unit.includes(kind) ? tell("bench.of_unit", { subject }) : kind === "bad_lot" ? tell("bench.of_lot", { subject }) : subject);
  const home = household ? `${household}, ${scope_words[scope]}` : homes.length ? homes.join(", ") : "";
  return [home, thing].filter(Boolean).join("; ");
}

export function Where({ finding }: { finding: Finding }) {
  const { household, scope, subject, kind, homes } = finding;
  const sides = scope === "both" ? ["left", "right"] : [scope];
  return (
    <span class="where">
      {household && (
        <>
          {household}
          {sides.map((side) => (
            <a key={side} href={side_href(household, side)}>
              {scope_words[side as Scope]}
              <span class="unseen">{tell("bench.history_unseen", { household, side })}</span>
            </a>
          ))}
        </>
      )}
      {subject && of_a_unit.includes(kind) && <a href={to("bench/unit", { serial: subject })}>{tell("bench.of_unit", { subject })}</a>}
      {subject && kind === "bad_lot" && <span>{tell("bench.of_lot", { subject })}</span>}
      {!household && homes.length > 0 && <span>{homes.join(", ")}</span>}
    </span>
  );
}
