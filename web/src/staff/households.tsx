// SPDX-License-Identifier: MIT
// The households of the agency, and what belongs to one's own way in.
import "../first_view";
import { useEffect, useState } from "preact/hooks";
import { get } from "../api/client";
import { refusal_words } from "../words/refusals";
import { Page } from "./frame";
import { OwnWayIn } from "./own";
import type { SectionProps } from "./sections";

interface Listed {
  households: { household: string; area?: string | null }[];
  next?: string | null;
}

function List() {
  const [page, set_page] = useState<Listed | null>(null);
  const [failed, set_failed] = useState("");
  const ask = async (cursor?: string | null): Promise<void> => {
    const answer = await get<Listed>(`/households?limit=50${cursor ? `&cursor=${encodeURIComponent(cursor)}` : ""}`);
    if ("got" in answer) set_page((before) => ({ ...answer.got, households: [...(before?.households ?? []), ...answer.got.households] }));
    else set_failed("no_signal" in answer ? "No signal: the households cannot be listed now." : refusal_words(answer).title);
  };
  useEffect(() => void ask(), []);
  return (
    <>
      {failed && <p role="status">{failed}</p>}
      {!page && !failed && <p role="status">Asking…</p>}
      {page?.households.length === 0 && (
        <p>None is kept here yet. The agency gives each household its own address, which ends in /h/ and the household's reference.</p>
      )}
      <ul class="households">
        {page?.households.map(({ household, area }) => (
          <li key={household}>
            <a href={`/h/${encodeURIComponent(household)}`}>
              {household}
              {area && <small>{area}</small>}
            </a>
          </li>
        ))}
      </ul>
      {page?.next && (
        <button type="button" onClick={() => void ask(page.next)}>
          More households
        </button>
      )}
    </>
  );
}

export function Households({ session }: SectionProps) {
  return (
    <Page title="Households">
      <List />
      <OwnWayIn session={session} />
    </Page>
  );
}
