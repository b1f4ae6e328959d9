// SPDX-License-Identifier: MIT
// Who is left: what the plan cannot bring in time, the highest risk first, why, and what would help, by extra visits.
import { useEffect, useRef, useState } from "preact/hooks";
import { odds_words } from "../../words/odds";
import { Asked } from "../common/asked";
import { Cautions } from "../common/cautions";
import { date_words, today_of } from "../common/dates";
import { useDocument } from "../common/use_document";
import { cap, count_of, list_words, packs, why_words } from "../common/words";
import type { Left, Plan, Remedy } from "../round_types";
import { shortfall_words } from "./plan_model";

function left_words({ late_on, risk, reasons }: Left, today: string): string {
  const comes = late_on ? `Comes on ${date_words(late_on, today)}, too late` : "Does not come within the weeks planned";
  return `${comes}: ${list_words(reasons.map((one) => why_words[one]))}. Falls short in ${odds_words(risk)} cases.`;
}

function Remedies({ stop }: { stop: string }) {
  const asked = useDocument<{ remedies: Remedy[] }>(`/plan/remedies?stop=${encodeURIComponent(stop)}`);
  return (
    <Asked asked={asked} what="what would help">
      {({ remedies }) =>
        remedies.length ? (
          <ol class="remedies">
            {remedies.map((one) => (
              <li key={one.text}>
                <p>{cap(one.text)}</p>
                <p class="small">
                  {`${/extra visit/.test(one.text) ? "" : `${count_of(one.extra_visits, "extra visit")}. `}Expected shortfalls at this stop then: ${shortfall_words(one.risk_after)}.`}
                  {one.round && (
                    <>
                      {" "}
                      <a href={`#desk/plan?${new URLSearchParams({ round: one.round })}`}>Look at that round</a>
                    </>
                  )}
                  {one.kind === "extra_round" && (
                    <>
                      {" "}
                      <a href="#desk/calendar">Add a round</a>
                    </>
                  )}
                  {one.kind === "more_packs" && (
                    <>
                      {" "}
                      <a href="#desk/store">The agency's store</a>
                    </>
                  )}
                </p>
              </li>
            ))}
          </ol>
        ) : (
          <p>No single change would help. Call the home, and get cells to it another way.</p>
        )
      }
    </Asked>
  );
}

function OfStop({ stop, left, today, chosen }: { stop: string; left: readonly Left[]; today: string; chosen: boolean }) {
  const [open, set_open] = useState(chosen);
  const place = useRef<HTMLLIElement>(null);
  useEffect(() => {
    if (chosen) place.current?.scrollIntoView({ block: "center" });
  }, []);
  return (
    <li ref={place} class="left-stop">
      {left.map((one) => (
        <div key={`${one.household}${one.item}${one.deliver_by}`}>
          <p>
            <a class="strong" href={`#desk?${new URLSearchParams({ household: one.household })}`}>
              {one.household}
            </a>
            {stop !== one.household && ` (stop ${stop})`}
            <span class="strong">{` ${packs(one.packs)} of ${one.item} by ${date_words(one.deliver_by, today)}`}</span>
          </p>
          <p>{left_words(one, today)}</p>
        </div>
      ))}
      {open ? (
        <Remedies stop={stop} />
      ) : (
        <button type="button" class="small-act" onClick={() => set_open(true)}>
          What would help<span class="unseen">{` ${stop}`}</span>
        </button>
      )}
    </li>
  );
}

function by_stop(left: readonly Left[]): [string, Left[]][] {
  const stops = new Map<string, Left[]>();
  for (const one of left) stops.set(one.stop, [...(stops.get(one.stop) ?? []), one]);
  return [...stops];
}

export function ShortPage({ stop }: { stop: string }) {
  const plan = useDocument<Plan>("/plan");
  const today = today_of(new Date());
  return (
    <>
      <p>
        <a href="#desk/plan">Back to the plan</a>
      </p>
      <h1 tabIndex={-1}>Who cannot be served in time</h1>
      <p class="small">
        <Cautions />
      </p>
      <Asked asked={plan} what="the plan">
        {({ left, figures }) => (
          <>
            {left.length === 0 && <p>By the forecasts of today, the plan brings everything in time.</p>}
            {left.length > 0 && (
              <p>
                {`The plan makes the sum of these risks as small as it can, then the visits as few. Expected shortfalls: ${shortfall_words(figures.risk)}${figures.risk_bound > 0 ? `; no plan can have fewer than ${shortfall_words(figures.risk_bound)}` : ""}.`}
                {figures.stock_short && " The agency's store is short: what is there goes where the most risk is avoided a pack."}
              </p>
            )}
            <ol class="left-stops">
              {by_stop(left).map(([one, of_stop]) => <OfStop key={one} stop={one} left={of_stop} today={today} chosen={one === stop} />)}
            </ol>
          </>
        )}
      </Asked>
    </>
  );
}
