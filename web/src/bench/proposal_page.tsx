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
import { here, scope_words } from "./words";
import { side_href } from "./where";
import { tell } from "../words/catalogue/bench";

const look_again_ms = 5_000;

function Moves({ moves }: { moves: readonly Move[] }) {
  const say = (at: string | null): string => (at ? moment_words(new Date(at), new Date(), here()) : tell("bench.none_told"));
  return (
    <div class="table-scroll" role="region" aria-label={tell("bench.whose_change_by_would_move")} tabIndex={0}>
      <table class="ledger">
        <caption>{tell("bench.change_by_as_it_stands_and")}</caption>
        <thead>
          <tr>
            {[tell("bench.home"), tell("bench.as_it_stands"), tell("bench.as_it_would_be"), tell("bench.what_follows")].map((one) => (
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
                <a href={side_href(one.household, one.side)}>{`${one.household}, ${scope_words[one.side]}`}</a>
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
      <h2 id="effect">{tell("bench.whose_change_by")}</h2>
      <p class="text" role="status">
        {computing && effect.of > 0 ? tell("bench.being_worked_out_of_households", { looked_at: effect.looked_at, of: effect.of }) : ""} {effect.text}
      </p>
      {effect.moves.length > 0 && <Moves moves={effect.moves} />}
    </section>
  );
}

function Decision({ proposal, again }: { proposal: Proposal; again: () => Promise<void> }) {
  const act = useAct();
  const waits = !proposal.proposed_by_you && proposal.effect?.state === "computing";
  const [reason, set_reason] = useState("");
  const decide = async (approve: boolean): Promise<void> => {
    const after = await act.send<Proposal>(`/profile-proposals/${proposal.number}/decision`, { approve, ...(reason.trim() && { reason: reason.trim() }) });
    if (after) act.tell({ words: approve ? tell("bench.approved_it_is_in_force_from") : proposal.proposed_by_you ? tell("bench.taken_back") : tell("bench.refused"), undo: null });
    await again();
  };
  if (proposal.state !== "waiting") {
    const when = proposal.decided_at ? moment_words(new Date(proposal.decided_at), new Date(), here()) : "";
    return (
      <section aria-labelledby="decision">
        <h2 id="decision">{proposal.state === "approved" ? (proposal.version ? tell("bench.approved_version", { version: proposal.version }) : tell("bench.approved")) : tell("bench.refused_state")}</h2>
        <DoneLine act={act} />
        <p class="text">{[tell("bench.decided_by", { when, decider: proposal.decider ?? tell("bench.someone") }), proposal.reason].filter(Boolean).join(" ")}</p>
      </section>
    );
  }
  return (
    <section aria-labelledby="decision" class="no-print">
      <h2 id="decision">{proposal.proposed_by_you ? tell("bench.a_second_person_decides") : tell("bench.your_decision")}</h2>
      <DoneLine act={act} />
      <Refused said={act.said} />
      {proposal.proposed_by_you && <p class="text">{tell("bench.you_proposed_it_so_somebody_else")}</p>}
      <Input name="reason" legend={tell("bench.a_reason_if_any_no_names")} value={reason} max_length={200} onChange={set_reason} />
      {waits && <p id="why-it-waits" class="text">{tell("bench.it_can_be_approved_once")}</p>}
      <div class="answers decide">
        {!proposal.proposed_by_you && (
          <button type="button" disabled={act.busy || waits || !proposal.may_decide} aria-describedby={waits ? "why-it-waits" : undefined} onClick={() => void decide(true)}>
            {tell("bench.approve_it")}
          </button>
        )}
        <button type="button" disabled={act.busy} onClick={() => void decide(false)}>
          {proposal.proposed_by_you ? tell("bench.take_it_back") : tell("bench.refuse_it")}
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
      <h2 id="the-steps">{tell("bench.the_steps")}</h2>
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
          <summary>{tell("bench.the_table_as_it_was_pasted")}</summary>
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
    <Page title={proposal ? `${kind_of_profile[proposal.kind]}: ${proposal.subject}` : tell("bench.a_proposed_profile")} above={{ words: tell("bench.profiles"), href: to("bench/profiles") }}>
      <AskedFor asked={asked}>{(got) => <Whole proposal={got} again={asked.again} />}</AskedFor>
    </Page>
  );
}
