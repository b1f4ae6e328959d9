// SPDX-License-Identifier: MIT
// Profiles of cells, stimulators and units, and handling steps: what waits for a second person, and every version.
import { AskedFor } from "../staff/asked";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import { to } from "../staff/place";
import type { Proposal, ProposalKind, Version } from "./api_profiles";
import { day, here } from "./words";
import { tell } from "../words/catalogue/bench";

export const kind_of_profile: Record<ProposalKind, string> = { cell: tell("bench.cell"), unit: tell("bench.unit"), stimulator: tell("bench.stimulator"), steps: tell("bench.handling_steps") };

const ways = [
  { href: to("bench/cell"), words: tell("bench.a_cell"), more: tell("bench.from_a_pasted_table_of_published") },
  { href: to("bench/measure", { kind: "stimulator" }), words: tell("bench.a_stimulator"), more: tell("bench.a_model_of_unit_from_bench") },
  { href: to("bench/measure", { kind: "unit" }), words: tell("bench.one_unit"), more: tell("bench.its_own_measured_values_by_serial") },
  { href: to("bench/steps"), words: tell("bench.handling_steps"), more: tell("bench.the_makers_steps_shown_to_homes") },
];

function Waiting({ proposals }: { proposals: readonly Proposal[] }) {
  const waiting = proposals.filter((one) => one.state === "waiting");
  const decided = proposals.filter((one) => one.state !== "waiting");
  const Line = ({ one }: { one: Proposal }) => (
    <li>
      <a href={to("bench/proposal", { number: String(one.number) })}>{`${kind_of_profile[one.kind]}: ${one.subject}`}</a>
      <p class="small">{one.text}</p>
    </li>
  );
  return (
    <section aria-labelledby="waiting">
      <h2 id="waiting">{tell("bench.waiting_for_a_second_person")}</h2>
      {waiting.length ? <ul class="plain-list">{waiting.map((one) => <Line key={one.number} one={one} />)}</ul> : <p class="text">{tell("bench.nothing_waits")}</p>}
      {decided.length > 0 && (
        <details>
          <summary>{tell("bench.decided", { number: decided.length })}</summary>
          <ul class="plain-list">{decided.map((one) => <Line key={one.number} one={one} />)}</ul>
        </details>
      )}
    </section>
  );
}

function Versions({ versions }: { versions: readonly Version[] }) {
  if (!versions.length) return <p class="text">{tell("bench.none_was_approved_here_yet_the")}</p>;
  return (
    <div class="table-scroll" role="region" aria-label={tell("bench.table_of_versions")} tabIndex={0}>
      <table class="ledger">
        <caption>{tell("bench.old_versions_are_kept_a_forecast")}</caption>
        <thead>
          <tr>
            {[tell("bench.profile"), tell("bench.version"), tell("bench.approved"), tell("bench.by"), ""].map((one) => (one ? <th scope="col" key={one}>{one}</th> : <td key="state" />))}
          </tr>
        </thead>
        <tbody>
          {versions.map((one) => (
            <tr key={`${one.kind}/${one.subject}/${one.version}`}>
              <th scope="row">
                <a href={to("bench/proposal", { number: String(one.number) })}>{`${kind_of_profile[one.kind]}: ${one.subject}`}</a>
              </th>
              <td>{one.version}</td>
              <td>{day(one.approved_at, here())}</td>
              <td>{tell("bench.proposed_by", { decider: one.decider ?? tell("bench.someone"), proposer: one.proposer ?? tell("bench.someone") })}</td>
              <td>{one.in_force ? <b>{tell("bench.in_force")}</b> : tell("bench.earlier")}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

export function ProfilesPage(_: { given: Record<string, string> }) {
  const proposals = useDocument<{ proposals: Proposal[] }>("/profile-proposals?state=all");
  const versions = useDocument<{ versions: Version[] }>("/profile-versions");
  return (
    <Page title={tell("bench.profiles")}>
      <section aria-labelledby="new-profile" class="no-print">
        <h2 id="new-profile">{tell("bench.propose_a_profile")}</h2>
        <ul class="ways-in">
          {ways.map(({ href, words, more }) => (
            <li key={href}>
              <a href={href}>
                {words}
                <small>{more}</small>
              </a>
            </li>
          ))}
        </ul>
      </section>
      <AskedFor asked={proposals}>{(got) => <Waiting proposals={got.proposals} />}</AskedFor>
      <section aria-labelledby="versions">
        <h2 id="versions">{tell("bench.versions")}</h2>
        <AskedFor asked={versions}>{(got) => <Versions versions={got.versions} />}</AskedFor>
      </section>
    </Page>
  );
}
