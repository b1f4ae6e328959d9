// SPDX-License-Identifier: MIT
// Whether the trail is whole, what to do where it is not, its head to write down, and what it cannot show.
import type { ComponentChildren } from "preact";
import { useMemo } from "preact/hooks";
import { to } from "../../staff/place";
import { clock_ahead_ms } from "../../time/service_clock";
import { moment, today_of } from "../common/dates";
import type { TrailStands } from "../trail_types";
import { Hash } from "./hash";
import { link_of_break } from "./link_words";

function Broken({ sentence, children }: { sentence: string | null; children: ComponentChildren }) {
  const at = link_of_break(sentence);
  return (
    <section class="trail-broken" aria-labelledby="stands-name">
      <h2 id="stands-name">The trail is broken.</h2>
      <p>
        The first break that was found, as the service says it: <b>{sentence}.</b> There may be more.
        {at && (
          <>
            {" "}
            <a href={to("desk/trail", { before: String(at + 1) })}>{`Link ${at} in the list`}</a>
          </>
        )}
      </p>
      {children}
      <ol>
        <li>Call whoever runs the service, today. Read out the line above and the head below.</li>
        <li>Keep all backups: copy them to another place now, as the service removes old ones by their age. One from before the break can show what stood there.</li>
        <li>
          On the service's machine <code>cellarer check --data DIR</code> names the breaks, 20 at most; <code>cellarer check COPY --key-file FILE</code> looks through a backup.
        </li>
        <li>If the line names a household, its forecast may rest on what was changed. Call the home. In doubt: fresh cells in both sides.</li>
      </ol>
      <p class="small">It can be tampering, a slip of somebody who worked in the file by hand, or a failing disk. Nothing on this page mends it. What homes record is taken as before.</p>
    </section>
  );
}

function Whole({ head, children }: { head: number; children: ComponentChildren }) {
  return (
    <section aria-labelledby="stands-name">
      <h2 id="stands-name">The trail is whole.</h2>
      <p>{`Every link fits the one before it, from number 1 to ${head}, and every record that is kept agrees with its link.`}</p>
      {children}
    </section>
  );
}

function Limits() {
  return (
    <details>
      <summary>What the trail cannot show</summary>
      <ul>
        <li>Whoever writes it anew from some link to its end, or cuts off its end, leaves no trace inside. A head that was noted elsewhere shows both: compare it on this page.</li>
        <li>Sessions, invitations, passkeys, recovery codes, labels, calendar addresses, push subscriptions, reminders and notes are not in it. Changed by hand they show nothing here, and whoever may write the service's file can let themselves in by them.</li>
        <li>Names of people here are labels of today, which are not in it. What it holds is the id of the account. “The service or a command” stands where there is none: the service itself, or a command on its machine.</li>
        <li>A record that was wrong when it was made stands in it as it was made.</li>
        <li>Accounts, and what erased households left of stock, from before the trail held them are in it as they stood when it began to.</li>
      </ul>
    </details>
  );
}

interface Props {
  stands: TrailStands;
  busy: boolean;
  again: () => void;
}

export function Stands({ stands, busy, again }: Props) {
  const asked_at = useMemo(() => new Date(Date.now() - clock_ahead_ms()), [stands]);
  const head = stands.links[0];
  if (!head) return <p>Nothing is in the trail yet. It begins with the first that is recorded or done here.</p>;
  const as_of = (
    <p class="small">
      {`As of ${moment(asked_at.toISOString(), today_of(asked_at))}. `}
      <button type="button" class="plain" disabled={busy} onClick={again}>
        {busy ? "Looking…" : "Look again"}
      </button>
    </p>
  );
  return (
    <>
      {stands.whole ? <Whole head={head.number}>{as_of}</Whole> : <Broken sentence={stands.first_break}>{as_of}</Broken>}
      <section aria-labelledby="head-name" class="trail-head">
        <h2 id="head-name">{stands.whole ? "The head, to write down" : "The head as it is now"}</h2>
        <p class="head-line">
          <b>{`Link ${head.number}`}</b> <Hash hash={head.hash} />
        </p>
        {stands.whole && <p class="small">Keep it with today's date outside this service, on paper or with somebody else. It is no secret. Months later it shows whether the trail up to here was written anew.</p>}
        <Limits />
      </section>
    </>
  );
}
