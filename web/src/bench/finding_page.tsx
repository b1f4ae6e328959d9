// SPDX-License-Identifier: MIT
// One finding: its evidence, what may be the cause and how probably, what would tell the causes apart, what became of it.
import { AskedFor } from "../staff/asked";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import { to } from "../staff/place";
import type { Finding, Findings, Step } from "./api_findings";
import { Became } from "./finding_state";
import { Fresh, empty_words } from "./fresh";
import { LeftOut } from "./left_out";
import { Share } from "./share";
import { Span, rule_of } from "./span";
import { as_title, bits_words, chance, day, here, kind_words, more_words, probable } from "./words";
import { Where, side_href } from "./where";
import { tell } from "../words/catalogue/bench";

const above = { words: tell("bench.findings"), href: to("bench") };

function Causes({ finding }: { finding: Finding }) {
  const { causes, named, verdict } = finding;
  return (
    <section aria-labelledby="causes">
      <h2 id="causes">{tell("bench.what_may_be_the_cause")}</h2>
      <p class={named ? "lead" : "lead cannot-tell"}>{verdict}</p>
      {causes.length > 0 && (
        <div class="table-scroll" role="region" aria-label={tell("bench.the_causes")} tabIndex={0}>
          <table class="ledger causes">
          <caption>{tell("bench.if_something_is_wrong_how_probable")}</caption>
          <thead>
            <tr>
              <th scope="col">{tell("bench.cause")}</th>
              <th scope="col">{tell("bench.in_words")}</th>
              <th scope="col" class="figure">
                {tell("bench.probability")}
              </th>
            </tr>
          </thead>
          <tbody>
            {causes.map((one) => (
              <tr key={one.cause}>
                <th scope="row">{as_title(one.words)}</th>
                <td>
                  <Share value={one.probability} />
                  {probable(one.probability)}
                </td>
                <td class="figure">{chance(one.probability)}</td>
              </tr>
            ))}
          </tbody>
        </table>
        </div>
      )}
    </section>
  );
}

/// Where each step is taken: on the side's page, on the bench, or in the home.
function step_way(step: Step, { household, scope, subject }: Finding): { words: string; href: string } | null {
  const side = scope === "right" ? "right" : "left";
  const serial = subject ?? "";
  if (step === "read_settings" && household) return { words: tell("bench.note_what_was_read"), href: to("bench/side", { household, side, check: "settings_read" }) };
  if (step === "note_hours" && household) return { words: tell("bench.note_the_hours"), href: to("bench/side", { household, side, check: "hours_noted" }) };
  if (step === "measure_unit") return { words: tell("bench.note_the_measurements"), href: to("bench/measure", { kind: "unit", serial }) };
  return null;
}

function Next({ finding }: { finding: Finding }) {
  const { next, named } = finding;
  if (!next.length) return named ? null : <p class="text">{tell("bench.no_step_that_can_be_taken")}</p>;
  return (
    <section aria-labelledby="next">
      <h2 id="next">{tell("bench.what_would_tell_them_apart_next")}</h2>
      <ol class="steps-next">
        {next.map(({ step, words, bits }) => {
          const way = step_way(step, finding);
          return (
            <li key={step}>
              <p class="strong">{words}</p>
              <p class="small">{tell("bench.how_much_it_tells", { how_much: bits_words(bits) })}</p>
              {way && <a href={way.href}>{way.words}</a>}
            </li>
          );
        })}
      </ol>
    </section>
  );
}

function Evidence({ finding }: { finding: Finding }) {
  const { household, scope, evidence, from } = finding;
  return (
    <section aria-labelledby="evidence">
      <h2 id="evidence">{tell("bench.what_was_seen")}</h2>
      {finding.more_percent !== null && <div class="amount wide">
        <Span low={finding.low_percent} best={finding.more_percent} high={finding.high_percent} {...rule_of([finding])} wide />
        <p>
          <b>{more_words(finding)}</b>
          <span class="small">{` ${from ? tell("bench.against_what_the_records_let_expect", { when: day(from, here()) }) : tell("bench.against_the_records")}`}</span>
        </p>
      </div>}
      <ul class="text">{evidence.map((one) => <li key={one}>{one}</li>)}</ul>
      {household && (
        <p class="ways-on">
          {(scope === "both" ? ["left", "right"] : [scope]).map((side) => (
            <a key={side} href={side_href(household, side)}>{tell("bench.the_history_of", { household, side })}</a>
          ))}
        </p>
      )}
    </section>
  );
}

function Whole({ finding, again }: { finding: Finding; again: () => Promise<void> }) {
  return (
    <div class="finding-whole">
      <div>
        <p class="lead">
          <Where finding={finding} />
        </p>
        {finding.reopens && (
          <p class="notice">
            {tell("bench.there_was_a_finding_here_before")}{" "}
            <a href={to("bench/finding", { id: finding.reopens })}>{tell("bench.read_it")}</a>
          </p>
        )}
        <Evidence finding={finding} />
        <Causes finding={finding} />
        <Next finding={finding} />
      </div>
      <Became finding={finding} again={again} />
    </div>
  );
}

export function FindingPage({ given }: { given: Record<string, string> }) {
  const asked = useDocument<Findings>("/findings?state=all");
  const finding = asked.got?.findings.find((one) => one.id === given["id"]);
  return (
    <Page title={finding ? as_title(finding.title || kind_words[finding.kind] || tell("bench.a_finding")) : tell("bench.a_finding")} above={above}>
      <AskedFor asked={asked}>
        {({ as_of, fresh, left_out }) => (
          <>
            <LeftOut left_out={left_out} />
            {finding ? <Whole finding={finding} again={asked.again} /> : <p class="lead">{empty_words(as_of, tell("bench.this_finding_is_not_there_any"))}</p>}
            <Fresh as_of={as_of} fresh={fresh} />
          </>
        )}
      </AskedFor>
    </Page>
  );
}
