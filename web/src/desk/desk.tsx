// SPDX-License-Identifier: MIT
// The planner's desk: its pages, and the way between them. All of it comes in files of its own, which no phone of a
// household fetches.
import "../first_view";
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import type { Session } from "../api/access";
import { to } from "../staff/place";
import type { SectionProps } from "../staff/sections";
import { wear } from "../staff/sheet";
import { may } from "../state/session";
import { CautionsPage } from "./common/cautions";
import { DoneBar, forget_done } from "./common/done";
import { Costs } from "./costs/costs";
import { InAndOut } from "./inout/in_and_out";
import { Who } from "./list/who";
import { LotPage } from "./lots/lot_page";
import { LotsPage } from "./lots/lots_page";
import { CalendarPage } from "./rounds/calendar_page";
import { PlanPage } from "./rounds/plan_page";
import { RoundPage } from "./rounds/round_page";
import { ShortPage } from "./rounds/short_page";
import { StorePage } from "./rounds/store_page";
import beside from "./style/beside.css";
import desk from "./style/desk.css";
import figures from "./style/figures.css";
import list from "./style/list.css";
import paper from "./style/paper.css";
import rounds from "./style/rounds.css";
import trail from "./style/trail.css";
import { TrailPage } from "./trail/trail_page";

[desk, list, beside, rounds, figures, trail, paper].forEach(wear);

/// Each page, what its reader needs to be allowed, and the pages that lie behind it.
const leaves: readonly { page: string; words: string; needs: string; behind: readonly string[] }[] = [
  { page: "", words: "Who needs what", needs: "plan-rounds", behind: ["cautions"] },
  { page: "plan", words: "The plan", needs: "plan-rounds", behind: ["short", "round"] },
  { page: "calendar", words: "Rounds and areas", needs: "plan-rounds", behind: [] },
  { page: "store", words: "The agency's store", needs: "plan-rounds", behind: [] },
  { page: "lots", words: "Lots", needs: "read-lots", behind: ["lot"] },
  { page: "costs", words: "Waste and risk", needs: "read-costs", behind: [] },
  { page: "in_out", words: "In and out", needs: "import", behind: [] },
  { page: "trail", words: "Audit trail", needs: "read-audit", behind: [] },
];

function page_of({ session, page, given }: SectionProps): ComponentChildren {
  switch (page) {
    case "plan":
      return <PlanPage area={given["area"] ?? ""} round={given["round"] ?? ""} />;
    case "short":
      return <ShortPage stop={given["stop"] ?? ""} />;
    case "round":
      return <RoundPage round={given["round"] ?? ""} />;
    case "calendar":
      return <CalendarPage />;
    case "store":
      return <StorePage />;
    case "lots":
      return <LotsPage />;
    case "lot":
      return <LotPage lot={given["lot"] ?? ""} item={given["item"] ?? "cells"} />;
    case "costs":
      return <Costs />;
    case "in_out":
      return <InAndOut session={session} />;
    case "trail":
      return <TrailPage session={session} before={given["before"] ?? ""} />;
    case "cautions":
      return <CautionsPage />;
    default:
      return <Who chosen={given["household"] ?? ""} />;
  }
}

function Contents({ session, here }: { session: Session; here: string }) {
  return (
    <nav class="contents" aria-label="Pages of the desk">
      <ul>
        {leaves.filter(({ needs }) => may(session, needs)).map(({ page, words, behind }) => (
          <li key={page}>
            <a href={to(page ? `desk/${page}` : "desk")} aria-current={here === page ? "page" : behind.includes(here) ? "true" : undefined}>
              {words}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

/// When another page opens its heading takes the focus, so that it is read out.
function use_heading(page: string): void {
  const before = useRef<string | null>(null);
  useEffect(() => {
    const words = leaves.find((one) => one.page === page || one.behind.includes(page))?.words;
    document.title = `${words ?? "Planner's desk"} · Cellarer`;
    if (before.current !== null && before.current !== page) {
      forget_done();
      window.scrollTo(0, 0);
      document.querySelector<HTMLElement>(".desk h1")?.focus({ preventScroll: true });
    }
    before.current = page;
  }, [page]);
}

export function Desk({ session, page, given }: SectionProps) {
  use_heading(page);
  return (
    <div class="desk">
      <Contents session={session} here={page} />
      <main>
        {page_of({ session, page, given })}
        <DoneBar />
      </main>
    </div>
  );
}
