// SPDX-License-Identifier: MIT
// A proposed profile: its residuals, whose "change by" would move, and the second person's decision.
import { useEffect, useState } from "preact/hooks";
import { Refused } from "../access/refused";
import { Input } from "../parts/fields";
import { useAct } from "../staff/act";
import { AskedFor } from "../staff/asked";
import { DoneLine } from "../staff/done_line";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import { to } from "../staff/place";
import { moment_words } from "../words/moments";
import type { Move, Proposal } from "./api_profiles";
import { kind_of_profile } from "./profiles_page";
import { FitTold, Residuals } from "./residuals";
import { here } from "./words";
import { side_href } from "./where";

const look_again_ms = 5_000;

function Moves({ moves }: { moves: readonly Move[] }) {
  const say = (at: string | null): string => (at ? moment_words(new Date(at), new Date(), here()) : "none told");
  return (
    <div class="table-scroll" role="region" aria-label="Whose change by would move" tabIndex={0}>
      <table class="ledger">
        <caption>“Change by”, as it stands and as it would be; your clock</caption>
        <thead>
          <tr>
            {["Home", "As it stands", "As it would be", "What follows"].map((one) => (
              <th scope="col" key={one}>
                {one}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {moves.map((one) => (
            <tr key={`${one.household}/${one.side}`}>
              <th scope="row">
                <a href={side_href(one.household, one.side)}>{`${one.household}, ${one.side}`}</a>
              </th>
              <td>{say(one.change_by_before)}</td>
              <td>{one.later ? <s>{say(one.change_by_after)}</s> : say(one.change_by_after)}</td>
              <td>{one.text}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Effect({ effect }: { effect: NonNullable<Proposal["effect"]> }) {
  const computing = effect.state === "computing";
  return (
    <section aria-labelledby="effect">
      <h2 id="effect">Whose “change by” would move</h2>
      <p class="text" role="status">
        {computing ? `Being worked out: ${effect.looked_at} of ${effect.of} households. ` : ""}
        {effect.text}
      </p>
      {effect.moves.length > 0 && <Moves moves={effect.moves} />}
    </section>
  );
}

function Decision({ proposal, again }: { proposal: Proposal; again: () => Promise<void> }) {
  const act = useAct();
  const [reason, set_reason] = useState("");
  const decide = async (approve: boolean): Promise<void> => {
    const after = await act.send<Proposal>(`/profile-proposals/${proposal.number}/decision`, { approve, ...(reason.trim() && { reason: reason.trim() }) });
    if (after) act.tell({ words: approve ? "Approved: it is in force from now on." : proposal.proposed_by_you ? "Taken back." : "Refused.", undo: null });
    await again();
  };
  if (proposal.state !== "waiting") {
    const when = proposal.decided_at ? moment_words(new Date(proposal.decided_at), new Date(), here()) : "";
    return (
      <section aria-labelledby="decision">
        <h2 id="decision">{proposal.state === "approved" ? `Approved${proposal.version ? `: version ${proposal.version}` : ""}` : "Refused"}</h2>
        <DoneLine act={act} />
        <p class="text">{[`${when}, by ${proposal.decider ?? "someone"}.`, proposal.reason].filter(Boolean).join(" ")}</p>
      </section>
    );
  }
  return (
    <section aria-labelledby="decision" class="no-print">
      <h2 id="decision">{proposal.proposed_by_you ? "A second person decides" : "Your decision"}</h2>
      <DoneLine act={act} />
      <Refused said={act.said} />
      {proposal.proposed_by_you && <p class="text">You proposed it, so somebody else has to read and approve it. You may take it back.</p>}
      <Input name="reason" legend="A reason, if any; no names" value={reason} max_length={200} onChange={set_reason} />
      <div class="answers decide">
        {!proposal.proposed_by_you && (
          <button type="button" disabled={act.busy || !proposal.may_decide} onClick={() => void decide(true)}>
            Approve it
          </button>
        )}
        <button type="button" disabled={act.busy} onClick={() => void decide(false)}>
          {proposal.proposed_by_you ? "Take it back" : "Refuse it"}
        </button>
      </div>
    </section>
  );
}

function Steps({ body }: { body: Record<string, unknown> }) {
  const steps = Array.isArray(body["steps"]) ? body["steps"].map(String) : [];
  if (!steps.length) return null;
  return (
    <section aria-labelledby="the-steps">
      <h2 id="the-steps">The steps</h2>
      <ol class="text">{steps.map((one) => <li key={one}>{one}</li>)}</ol>
      <p class="small">{[body["source"], body["date"]].filter(Boolean).map(String).join(", ")}</p>
    </section>
  );
}

function Whole({ proposal, again }: { proposal: Proposal; again: () => Promise<void> }) {
  const computing = proposal.effect?.state === "computing";
  useEffect(() => {
    if (!computing) return undefined;
    const timer = setTimeout(() => void again(), look_again_ms);
    return () => clearTimeout(timer);
  }, [proposal]);
  const table = proposal.body?.["table"];
  return (
    <>
      <p class="lead">{proposal.text}</p>
      {proposal.fit && <FitTold fit={proposal.fit} />}
      <Residuals residuals={proposal.residuals ?? []} />
      {proposal.body && <Steps body={proposal.body} />}
      {proposal.effect && <Effect effect={proposal.effect} />}
      <Decision proposal={proposal} again={again} />
      {typeof table === "string" && (
        <details>
          <summary>The table as it was pasted</summary>
          <pre class="code-like" tabIndex={0}>{table}</pre>
        </details>
      )}
    </>
  );
}

export function ProposalPage({ given }: { given: Record<string, string> }) {
  const asked = useDocument<Proposal>(`/profile-proposals/${encodeURIComponent(given["number"] ?? "")}`);
  const proposal = asked.got;
  return (
    <Page title={proposal ? `${kind_of_profile[proposal.kind]}: ${proposal.subject}` : "A proposed profile"} above={{ words: "Profiles", href: to("bench/profiles") }}>
      <AskedFor asked={asked}>{(got) => <Whole proposal={got} again={asked.again} />}</AskedFor>
    </Page>
  );
}
