// SPDX-License-Identifier: MIT
// "Who needs what": what cannot wait, then every household; one of them opens beside the list.
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { kept_in_tab } from "../../state/kept";
import { open_screen } from "../../state/screen";
import { useStore } from "../../state/store";
import { use_asking } from "../household/asking";
import { Beside } from "../household/beside";
import type { BoardRow } from "../board_types";
import { Cautions } from "../common/cautions";
import { moment, today_of } from "../common/dates";
import { Refused } from "../../access/refused";
import { BoardStore } from "./board";
import { Filters } from "./filters";
import { First } from "./first";
import { Row } from "./row";
import { areas_of, first_view, lay_out, rows_of, type View } from "./view";
import { Windowed } from "./windowed";

const where_to = (household: string): string => `#desk?${new URLSearchParams({ household })}`;
const heads = ["Tonight", "Household", "Deliver by", "Round", "Count and messages"];

function step(event: KeyboardEvent): void {
  const down = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
  const here = (event.target as HTMLElement).closest<HTMLElement>("[data-row]");
  if (!down || !here) return;
  const next = document.querySelector<HTMLElement>(`[data-row="${Number(here.dataset["row"]) + down}"]`);
  event.preventDefault();
  next?.focus({ preventScroll: true });
  next?.scrollIntoView({ block: "nearest" });
}

function use_slash(search: { current: HTMLInputElement | null }): void {
  useEffect(() => {
    const pressed = (event: KeyboardEvent): void => {
      if (event.key !== "/" || (event.target as HTMLElement).matches("input, select, textarea")) return;
      event.preventDefault();
      search.current?.focus();
    };
    document.addEventListener("keydown", pressed);
    return () => document.removeEventListener("keydown", pressed);
  }, []);
}

function Computing({ computed, of }: { computed: number; of: number }) {
  return (
    <p class="computing" role="status">
      <progress value={computed} max={Math.max(of, 1)} aria-label="Forecasts computed" />
      {` ${computed} of ${of} forecasts are computed. The others follow.`}
    </p>
  );
}

interface ListProps {
  rows: readonly BoardRow[];
  view: View;
  change: (view: View) => void;
  chosen: string;
  today: string;
  ask: (household: string) => void;
}

function List({ rows, view, change, chosen, today, ask }: ListProps) {
  const search = useRef<HTMLInputElement>(null);
  use_slash(search);
  const listed = useMemo(() => lay_out(rows), [rows]);
  const found = useMemo(() => rows_of(listed, view), [listed, view]);
  const areas = useMemo(() => areas_of(rows), [rows]);
  return (
    <section class="everyone" aria-labelledby="everyone-name">
      <h2 id="everyone-name">Every household</h2>
      <Filters view={view} areas={areas} change={change} search={search} />
      <p class="found" role="status">{`${found.length} of ${rows.length} households`}</p>
      {found.length === 0 && <p>{rows.length ? "None is like that. Another word or another area?" : "No household is kept yet. Bring them in under “In and out”."}</p>}
      {found.length > 0 && (
        <div role="table" aria-label="Households" aria-rowcount={found.length + 1} class="who-table" onKeyDown={step}>
          <div role="rowgroup">
            <div role="row" class="who-heads" aria-rowindex={1}>
              {heads.map((head) => (
                <div role="columnheader" key={head}>
                  {head}
                </div>
              ))}
            </div>
          </div>
          <Windowed rows={found} row={(row, index) => <Row key={index} row={row} index={index} today={today} open={row.household === chosen} ask={ask} where_to={where_to(row.household)} />} />
        </div>
      )}
    </section>
  );
}

/// Where the list stood is remembered while the tab is open.
export function Who({ chosen, list_first = "" }: { chosen: string; list_first?: string }) {
  const board = useMemo(() => new BoardStore(), []);
  const { rows, as_of, computed, of, said } = useStore(board);
  useEffect(() => board.start(), [board]);
  const [view, set_view] = useState<View>(() => ({ ...first_view, ...kept_in_tab.get<View>("desk-view"), ...(list_first && { text: list_first }) }));
  const change = (next: View): void => {
    kept_in_tab.set("desk-view", next);
    set_view(next);
  };
  const { ask, said: ask_said } = use_asking((household, asked_at) => {
    const row = board.value.rows?.find((one) => one.household === household);
    if (row) board.replace({ ...row, asked_at });
  });
  const today = today_of(new Date());
  const first = useMemo(() => rows && <First rows={rows} today={today} where_to={where_to} show={(show) => change({ ...first_view, show })} />, [rows, today]);
  const close = (): void => {
    open_screen("desk");
    requestAnimationFrame(() => document.querySelector<HTMLElement>(`.who-row a[href="${CSS.escape(where_to(chosen))}"]`)?.focus());
  };
  return (
    <div class={chosen ? "two-leaves with-beside" : "two-leaves"}>
      <div class="leaf">
        <h1 tabIndex={-1}>Who needs what</h1>
        <p class="small">
          {as_of ? `As of ${moment(as_of, today)}.` : "Asking…"} <Cautions />
        </p>
        <Refused said={said ?? ask_said} />
        {computed < of && <Computing computed={computed} of={of} />}
        {first}
        {rows && <List rows={rows} view={view} change={change} chosen={chosen} today={today} ask={(household) => void ask(household)} />}
      </div>
      {chosen && <Beside key={chosen} household={chosen} close={close} changed={() => void board.load()} />}
    </div>
  );
}

