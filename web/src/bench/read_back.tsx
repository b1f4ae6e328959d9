// SPDX-License-Identifier: MIT
// What the service read in a proposal, and its problems by line and column; then the step on.
import { useLayoutEffect, useRef } from "preact/hooks";
import { Refused } from "../access/refused";
import type { Problem } from "./api_profiles";
import type { Proposing } from "./proposing";
import { FitTold, Residuals } from "./residuals";
import { count } from "./words";
import { tell } from "../words/catalogue/bench";

const place_words = ({ line, column, place }: Problem): string => {
  if (line !== null) return column !== null ? tell("bench.line_column", { line, column }) : tell("bench.line", { line });
  return place.replace(/^\//, "").replace(/\/(\d+)/g, (_, index: string) => ` ${Number(index) + 1}`).replace(/\//g, ", ").replace(/_/g, " ");
};

/// What parts the columns, as the service has it: tabs, else semicolons, else commas, by the head line.
const separator_of = (table: string): string => ["\t", ";"].find((one) => table.trimStart().split(/\r?\n/)[0]?.includes(one)) ?? ",";

/// The pasted line that a problem is about, as it was pasted.
function Pasted({ table, problem }: { table: string | undefined; problem: Problem }) {
  const text = problem.line !== null ? table?.split(/\r?\n/)[problem.line - 1] : undefined;
  if (!text) return null;
  const cells = text.split(separator_of(table ?? ""));
  return (
    <span class="pasted">
      {cells.map((cell, index) => (problem.column === index + 1 ? <mark key={index}>{cell || tell("bench.empty")}</mark> : <span key={index}>{cell}</span>))}
    </span>
  );
}

function Problems({ problems, table }: { problems: readonly Problem[]; table: string | undefined }) {
  return (
    <div class="notice problems">
      <p class="strong">{tell("bench.to_mend_before_it_can_be", { how_many: count(problems.length, "thing") })}</p>
      <ul>
        {problems.map((one) => (
          <li key={`${one.place}/${one.reason}`}>
            <b>{place_words(one)}</b>
            {`: ${one.reason} `}
            <Pasted table={table} problem={one} />
          </li>
        ))}
      </ul>
    </div>
  );
}

export function ReadBackOf({ proposing, table }: { proposing: Proposing; table?: string }) {
  const { back, said, busy, changed, propose, act } = proposing;
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    if (back) heading.current?.focus();
  }, [back]);
  return (
    <section aria-label={tell("bench.what_was_read")}>
      <Refused said={said} />
      {act.errors.length > 0 && <ul class="text">{act.errors.map((one) => <li key={one.place}>{one.reason}</li>)}</ul>}
      {back && (
        <>
          <h2 tabIndex={-1} ref={heading}>
            {tell("bench.what_was_read")}
          </h2>
          {back.text && <p class="lead">{back.text}</p>}
          {back.problems.length > 0 && <Problems problems={back.problems} table={table} />}
          {back.fit && <FitTold fit={back.fit} />}
          <Residuals residuals={back.residuals ?? []} />
          {back.usable && !back.problems.length && (
            <>
              <p class="text">{tell("bench.once_it_is_proposed_it_is")}</p>
              {changed && <p class="strong">{tell("bench.the_form_was_changed_since_read")}</p>}
              <button type="button" class="main" disabled={busy || changed} onClick={() => void propose()}>
                {tell("bench.propose_it")}
              </button>
            </>
          )}
        </>
      )}
    </section>
  );
}
