// SPDX-License-Identifier: MIT
// A finding as a line of a list: what, where, how much, how sure, and what became of it.
import type { Finding } from "./api_findings";
import { to } from "../staff/place";
import { Span } from "./span";
import { as_title, chance, day, here, kind_words, more_parts, probable, state_words } from "./words";
import { Where } from "./where";
import { tell } from "../words/catalogue/bench";

function how_sure({ named, causes, probability }: Finding): string {
  const said = (p: number): string => `${probable(p)}, ${chance(p)}.`;
  const wrong = probability === null || probability === undefined ? "" : `${tell("bench.something_is_off", { said: said(probability) })} `;
  const first = causes.find((one) => one.cause === named);
  if (first) return `${wrong}${as_title(first.words)}: ${said(first.probability)}`;
  return causes.length ? wrong + tell("bench.the_cause_cannot_tell_yet") : wrong.trim();
}

export function FindingRow({ finding, rule }: { finding: Finding; rule: { from: number; to: number } }) {
  const { id, title, kind, state, raised_at, ended_at, history } = finding;
  const last = history.at(-1);
  const { best, range } = more_parts(finding);
  return (
    <li class={state === "open" ? "finding not-looked-at" : "finding"} data-finding={id}>
      <div class="amount">
        {finding.more_percent !== null && (
          <>
            <Span low={finding.low_percent} best={finding.more_percent} high={finding.high_percent} {...rule} />
            <p>
              <b>{best}</b>
              {range && <small>{range}</small>}
            </p>
          </>
        )}
      </div>
      <div class="what">
        <h2>
          <a href={to("bench/finding", { id })}>{as_title(title || kind_words[kind] || kind)}</a>
        </h2>
        <p>
          <Where finding={finding} />
        </p>
        <p class="small">{how_sure(finding)}</p>
      </div>
      <div class="became">
        <p class="strong">{state_words[state]}</p>
        <p class="small">{last && last.state === state ? last.text : tell("bench.raised", { when: day(raised_at, here()) })}</p>
        {ended_at && <p class="small">{tell("bench.the_evidence_faded", { when: day(ended_at, here()) })}</p>}
      </div>
    </li>
  );
}

export function FindingList({ findings, rule }: { findings: readonly Finding[]; rule: { from: number; to: number } }) {
  return <ul class="findings">{findings.map((one) => <FindingRow key={one.id} finding={one} rule={rule} />)}</ul>;
}
