// SPDX-License-Identifier: MIT
// The history of one side: drawings, the table beside them, comparisons, checks made, findings.
import { AskedFor } from "../staff/asked";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import { to } from "../staff/place";
import type { SideHistory } from "./api";
import { history_path } from "./api";
import { Checks } from "./checks";
import { FindingList } from "./finding_row";
import { Fresh } from "./fresh";
import { Compared } from "./side_compared";
import { SideCharts } from "./side_charts";
import { SetsInFull, SideTable } from "./side_table";
import { rule_of } from "./span";
import { AsItWasThen } from "./then";
import { side_href } from "./where";
import { scope_words } from "./words";
import { tell } from "../words/catalogue/bench";

function Whole({ history, again, check }: { history: SideHistory; again: () => Promise<void>; check: string | undefined }) {
  const drawn = history.sets.some((one) => one.observed);
  return (
    <>
      {history.findings.length > 0 && (
        <section aria-labelledby="side-findings">
          <h2 id="side-findings">{tell("bench.findings_of_this_home")}</h2>
          <FindingList findings={history.findings} rule={rule_of(history.findings)} />
        </section>
      )}
      {!history.sets.length && <p class="lead">{tell("bench.no_set_of_this_side_has")}</p>}
      {history.sets.length > 0 && !drawn && <p class="lead">{tell("bench.no_set_was_read_while_it")}</p>}
      {drawn && (
        <div class="drawn-and-told">
          <SideCharts history={history} />
          <SideTable history={history} />
        </div>
      )}
      {history.sets.length > 0 && <SetsInFull history={history} />}
      {history.sets.length > 0 && <Compared history={history} />}
      <Checks history={history} again={again} asked={check} />
      <AsItWasThen household={history.household} side={history.side} zone={history.zone} />
      <Fresh as_of={history.as_of} fresh={history.fresh} />
    </>
  );
}

export function SidePage({ given }: { given: Record<string, string> }) {
  const household = given["household"] ?? "";
  const side = given["side"] === "right" ? "right" : "left";
  const other = side === "left" ? "right" : "left";
  const path = history_path(household, side);
  const asked = useDocument<SideHistory>(path);
  const beside = (
    <>
      <a href={side_href(household, other)}>{tell("bench.its_side", { other })}</a>
      <a href={`/api/v1${path}.csv`} download={`${household}-${side}.csv`}>
        CSV
      </a>
      <a href={`/h/${encodeURIComponent(household)}`}>{tell("bench.the_homes_page")}</a>
    </>
  );
  return (
    <Page title={`${household}, ${scope_words[side]}`} above={{ words: tell("bench.sides"), href: to("bench/sides") }} beside={beside}>
      <AskedFor asked={asked}>{(history) => <Whole history={history} again={asked.again} check={given["check"]} />}</AskedFor>
    </Page>
  );
}
