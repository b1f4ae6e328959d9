// SPDX-License-Identifier: MIT
// A head that was noted some time ago, held against the link of that number as it stands now.
import { useState } from "preact/hooks";
import { get } from "../../api/client";
import { Refused } from "../../access/refused";
import { Input } from "../../parts/fields";
import { to } from "../../staff/place";
import { desk_refusal, type Said } from "../common/said";
import type { TrailLink, TrailPart } from "../trail_types";
import { Hash } from "./hash";

const least_signs = 8;
const all_signs = 64;

interface Found {
  number: number;
  noted: string;
  /// Null: the trail does not reach so far.
  link: TrailLink | null;
  head: number;
}

export const bare = (hash: string): string => hash.toLowerCase().replace(/[\s.…]/g, "");
export const is_hash = (text: string): boolean => /^[0-9a-f]+$/.test(text) && text.length >= least_signs && text.length <= all_signs;

function Differs({ link }: { link: TrailLink }) {
  return (
    <>
      <p class="strong">{`Link ${link.number} has another hash than the one you noted.`}</p>
      <p>It is now:</p>
      <p>
        <Hash hash={link.hash} />
      </p>
      <p>Compare it sign by sign with your note. If it is not a slip, the trail was written anew from this link or one before it: tell whoever runs the service, today, and keep all backups.</p>
    </>
  );
}

function Result({ found: { number, noted, link, head } }: { found: Found }) {
  if (!link) {
    return (
      <>
        <p class="strong">{`There is no link ${number}: the trail ends at ${head}.`}</p>
        <p>If you noted a link of this number, its end was cut off, or an older backup was restored. Tell whoever runs the service, today, and keep all backups.</p>
      </>
    );
  }
  if (!link.hash.startsWith(noted)) return <Differs link={link} />;
  const signs = noted.length < all_signs ? `begins with the ${noted.length} signs that you noted` : "is the one that you noted";
  return (
    <>
      <p class="strong">{`The hash of link ${number} ${signs}.`}</p>
      <p>The links up to it were not written anew since. If the trail is whole as well, what they tell of is as it was then.</p>
    </>
  );
}

export function Compare() {
  const [draft, set_draft] = useState({ number: "", hash: "" });
  const [found, set_found] = useState<Found | null>(null);
  const [said, set_said] = useState<Said | null>(null);
  const [busy, set_busy] = useState(false);
  const [number, noted] = [Number(draft.number.trim()), bare(draft.hash)];
  const ready = Number.isSafeInteger(number) && number > 0 && is_hash(noted);
  const set = (part: Partial<typeof draft>): void => {
    set_draft({ ...draft, ...part });
    set_found(null);
  };
  const compare = async (event: Event): Promise<void> => {
    event.preventDefault();
    set_busy(true);
    set_said(null);
    set_found(null);
    const answer = await get<TrailPart>(`/audit?limit=1&cursor=${number + 1}`);
    set_busy(false);
    if (!("got" in answer)) return set_said(desk_refusal(answer));
    const newest = answer.got.links[0];
    set_found({ number, noted, link: newest?.number === number ? newest : null, head: newest?.number ?? 0 });
  };
  return (
    <section aria-labelledby="compare-name">
      <h2 id="compare-name">Compare a head from before</h2>
      <form class="adjust" onSubmit={(event) => void compare(event)}>
        <Input name="number" legend="Number of the link" keys="numeric" value={draft.number} onChange={(value) => set({ number: value })} />
        <Input name="hash" legend={`Its hash as you noted it: all ${all_signs} signs, or the first, ${least_signs} at least`} value={draft.hash} onChange={(value) => set({ hash: value })} />
        <button type="submit" disabled={busy || !ready}>
          Compare
        </button>
      </form>
      <Refused said={said} />
      <div role="status">
        {found && (
          <div class="notice">
            <Result found={found} />
            {found.link && (
              <p>
                <a href={to("desk/trail", { before: String(number + 1) })}>{`Link ${number} in the list`}</a>
              </p>
            )}
          </div>
        )}
      </div>
    </section>
  );
}
