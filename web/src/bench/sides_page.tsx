// SPDX-License-Identifier: MIT
// Every household's two sides, to open the history of one.
import { useEffect, useState } from "preact/hooks";
import { get } from "../api/client";
import { Page } from "../staff/frame";
import { choose } from "../staff/place";
import { refusal_words } from "../words/refusals";
import { side_href } from "./where";
import { scope_words } from "./words";
import { tell } from "../words/catalogue/bench";

interface Listed {
  households: { household: string; area?: string | null }[];
  next?: string | null;
}

const pages_at_most = 40;

export function SidesPage({ given }: { given: Record<string, string> }) {
  const [rows, set_rows] = useState<Listed["households"] | null>(null);
  const [failed, set_failed] = useState("");
  useEffect(() => {
    let wanted = true;
    const load = async (): Promise<void> => {
      let cursor: string | null | undefined = null;
      const all: Listed["households"] = [];
      for (let page = 0; page < pages_at_most; page++) {
        const answer: Awaited<ReturnType<typeof get<Listed>>> = await get<Listed>(`/households?limit=200${cursor ? `&cursor=${encodeURIComponent(cursor)}` : ""}`);
        if (!wanted) return;
        if (!("got" in answer)) return set_failed(refusal_words(answer).title);
        all.push(...answer.got.households);
        set_rows([...all]);
        cursor = answer.got.next;
        if (!cursor) return;
      }
    };
    void load();
    return () => void (wanted = false);
  }, []);
  const wanted = (given["where"] ?? "").trim().toLowerCase();
  const shown = rows?.filter(({ household, area }) => !wanted || `${household} ${area ?? ""}`.toLowerCase().includes(wanted));
  return (
    <Page title={tell("bench.sides")}>
      <form class="filter" role="search" aria-label={tell("bench.which_home")} onSubmit={(event) => event.preventDefault()}>
        <label class="pick">
          <span>{tell("bench.home_or_area")}</span>
          <input type="search" value={given["where"] ?? ""} onInput={(event) => choose("bench/sides", { where: event.currentTarget.value })} />
        </label>
      </form>
      <div role="status">
        {failed && <p>{failed}</p>}
        {!rows && !failed && <p class="small">{tell("bench.asking")}</p>}
      </div>
      {shown?.length === 0 && <p class="lead">{wanted ? tell("bench.no_home_of_that_name_or") : tell("bench.no_household_is_kept_here_yet")}</p>}
      {shown && shown.length > 0 && (
        <table class="ledger sides-list">
          <thead>
            <tr>
              <th scope="col">{tell("bench.home")}</th>
              <th scope="col">{tell("bench.area")}</th>
              <th scope="col">{tell("bench.history")}</th>
            </tr>
          </thead>
          <tbody>
            {shown.map(({ household, area }) => (
              <tr key={household}>
                <th scope="row">{household}</th>
                <td>{area ?? ""}</td>
                <td class="both-sides">
                  {(["left", "right"] as const).map((side) => (
                    <a key={side} href={side_href(household, side)}>
                      {scope_words[side]}
                      <span class="unseen">{tell("bench.side_of", { household })}</span>
                    </a>
                  ))}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </Page>
  );
}
