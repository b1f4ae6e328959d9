// SPDX-License-Identifier: MIT
// The households of the agency, and what belongs to one's own way in.
import "../first_view";
import { useEffect, useState } from "preact/hooks";
import { get } from "../api/client";
import { refusal_words } from "../words/refusals";
import { Page } from "./frame";
import { OwnWayIn } from "./own";
import type { SectionProps } from "./sections";
import { tell } from "../words/catalogue/staff";

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
    else set_failed("no_signal" in answer ? tell("staff.no_signal_the_households_cannot_be") : refusal_words(answer).title);
  };
  useEffect(() => void ask(), []);
  return (
    <>
      {failed && <p role="status">{failed}</p>}
      {!page && !failed && <p role="status">{tell("staff.asking")}</p>}
      {page?.households.length === 0 && (
        <p>{tell("staff.none_is_kept_here_yet_the")}</p>
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
          {tell("staff.more_households")}
        </button>
      )}
    </>
  );
}

export function Households({ session }: SectionProps) {
  return (
    <Page title={tell("staff.households")}>
      <List />
      <OwnWayIn session={session} />
    </Page>
  );
}
