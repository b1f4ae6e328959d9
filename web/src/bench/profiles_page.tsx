// SPDX-License-Identifier: MIT
// Profiles of cells, stimulators and units, and handling steps: what waits for a second person, and every version.
import { AskedFor } from "../staff/asked";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import { to } from "../staff/place";
import type { Proposal, ProposalKind, Version } from "./api_profiles";
import { day, here } from "./words";

export const kind_of_profile: Record<ProposalKind, string> = { cell: "Cell", unit: "Unit", stimulator: "Stimulator", steps: "Handling steps" };

const ways = [
  { href: to("bench/cell"), words: "A cell", more: "from a pasted table of published figures" },
  { href: to("bench/measure", { kind: "stimulator" }), words: "A stimulator", more: "a model of unit, from bench measurements" },
  { href: to("bench/measure", { kind: "unit" }), words: "One unit", more: "its own measured values, by serial number" },
  { href: to("bench/steps"), words: "Handling steps", more: "the maker's steps, shown to homes once approved" },
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
      <h2 id="waiting">Waiting for a second person</h2>
      {waiting.length ? <ul class="plain-list">{waiting.map((one) => <Line key={one.number} one={one} />)}</ul> : <p class="text">Nothing waits.</p>}
      {decided.length > 0 && (
        <details>
          <summary>{`Decided (${decided.length})`}</summary>
          <ul class="plain-list">{decided.map((one) => <Line key={one.number} one={one} />)}</ul>
        </details>
      )}
    </section>
  );
}

function Versions({ versions }: { versions: readonly Version[] }) {
  if (!versions.length) return <p class="text">None was approved here yet: the profiles that come with the program are in force.</p>;
  return (
    <div class="table-scroll" role="region" aria-label="Table of versions" tabIndex={0}>
      <table class="ledger">
        <caption>Old versions are kept: a forecast can be made again with what was known then</caption>
        <thead>
          <tr>
            {["Profile", "Version", "Approved", "By", ""].map((one) => (one ? <th scope="col" key={one}>{one}</th> : <td key="state" />))}
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
              <td>{`${one.decider ?? "someone"}, proposed by ${one.proposer ?? "someone"}`}</td>
              <td>{one.in_force ? <b>in force</b> : "earlier"}</td>
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
    <Page title="Profiles">
      <section aria-labelledby="new-profile" class="no-print">
        <h2 id="new-profile">Propose a profile</h2>
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
        <h2 id="versions">Versions</h2>
        <AskedFor asked={versions}>{(got) => <Versions versions={got.versions} />}</AskedFor>
      </section>
    </Page>
  );
}
