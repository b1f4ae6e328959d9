// SPDX-License-Identifier: MIT
// The first page: the households this service keeps, or how one gets here.
import { useEffect, useState } from "preact/hooks";
import { get } from "../api/client";

interface Page {
  households: { household: string; area?: string | null }[];
  next?: string | null;
}

export function Start() {
  const [page, set_page] = useState<Page | null>(null);
  const [failed, set_failed] = useState("");
  const ask = async (cursor?: string | null): Promise<void> => {
    const answer = await get<Page>(`/households?limit=50${cursor ? `&cursor=${encodeURIComponent(cursor)}` : ""}`);
    if ("got" in answer) set_page((before) => ({ ...answer.got, households: [...(before?.households ?? []), ...answer.got.households] }));
    else set_failed("problem" in answer ? answer.problem.title : "No signal: the households cannot be listed now.");
  };
  useEffect(() => void ask(), []);
  return (
    <main>
      <h1>Households</h1>
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
    </main>
  );
}
