// SPDX-License-Identifier: MIT
// "Audit trail": whether it is whole, its head to write down and one from before to compare, and its links.
import type { Session } from "../../api/access";
import { may } from "../../state/session";
import { Asked } from "../common/asked";
import { useDocument } from "../common/use_document";
import type { StaffAccount, TrailStands } from "../trail_types";
import { Compare } from "./compare";
import { link_of_break, names_of } from "./link_words";
import { Links } from "./links";
import { Stands } from "./stands";

/// A million links take a quarter of a minute and more.
const patience_ms = 180_000;

function Trail({ before }: { before: string }) {
  const stands = useDocument<TrailStands>("/audit?limit=1", patience_ms);
  const staff = useDocument<{ accounts: StaffAccount[] }>("/accounts");
  const names = names_of(staff.got?.accounts ?? []);
  return (
    <>
      <div class="wide-and-narrow">
        <div>
          {stands.said && !stands.got && <p class="strong">Whether the trail is whole is not known now.</p>}
          <Asked asked={stands} what="the trail, which is computed anew from its first link">
            {(got) => <Stands stands={got} busy={stands.busy} again={stands.again} />}
          </Asked>
        </div>
        <Compare />
      </div>
      {staff.said && <p class="small">The names of staff cannot be had now: accounts stand here by their ids.</p>}
      <Links before={before} names={names} broken_at={link_of_break(stands.got?.first_break ?? null)} whole={stands.got?.whole ?? null} />
    </>
  );
}

export function TrailPage({ session, before }: { session: Session; before: string }) {
  return (
    <>
      <h1 tabIndex={-1}>Audit trail</h1>
      {may(session, "read-audit") ? <Trail before={before} /> : <p>An administrator of the agency may read it. Your way in may not.</p>}
    </>
  );
}
