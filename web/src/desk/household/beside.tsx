// SPDX-License-Identifier: MIT
// One household beside the list: what the home reads of its sides, what it needs, what it said, what is on its way, and
// what a planner can do for it.
import { useEffect, useRef } from "preact/hooks";
import { household_path } from "../../api/client";
import type { Forecast } from "../../api/types";
import type { HouseholdDesk } from "../board_types";
import { Asked } from "../common/asked";
import { Cautions } from "../common/cautions";
import { moment, today_of } from "../common/dates";
import { useDocument } from "../common/use_document";
import { Closing } from "./closing";
import { Deliveries } from "./deliveries";
import { Messages } from "./messages";
import { Needs } from "./needs";
import { Placing } from "./placing";
import { Records } from "./records";
import { Sides } from "./sides";
import { Stock } from "./stock";

interface Props {
  household: string;
  close: () => void;
  changed: () => void;
}

export interface PartProps {
  desk: HouseholdDesk;
  today: string;
  changed: () => void;
}

export function Beside({ household, close, changed }: Props) {
  const path = household_path(household);
  const desk = useDocument<HouseholdDesk>(`${path}/desk`);
  const forecast = useDocument<Forecast>(`${path}/forecast`);
  const heading = useRef<HTMLHeadingElement>(null);
  const today = today_of(new Date());
  useEffect(() => heading.current?.focus({ preventScroll: window.innerWidth > 900 }), []);
  const again = (): void => {
    desk.again();
    forecast.again();
    changed();
  };
  const pressed = (event: KeyboardEvent): void => {
    if (event.key === "Escape" && !(event.target as HTMLElement).matches("input, select")) close();
  };
  return (
    <section class="leaf beside-list" aria-labelledby="beside-name" onKeyDown={pressed}>
      <div class="beside-head">
        <h2 id="beside-name" tabIndex={-1} ref={heading}>
          {household}
        </h2>
        <a class="small-act" href={`/h/${encodeURIComponent(household)}`}>
          The home's own page
        </a>
        <button type="button" class="small-act" onClick={close}>
          Close<span class="unseen"> {household}</span>
        </button>
      </div>
      <Asked asked={desk} what="the household">
        {(got) => (
          <>
            {got.row.closed_at && <p class="notice">{`Closed ${moment(got.row.closed_at, today)}: no reminders, no stops.`}</p>}
            <Messages desk={got} today={today} changed={again} />
            <Deliveries desk={got} today={today} changed={again} />
            {got.row.closed_at && <Closing key="closing" desk={got} today={today} changed={again} />}
            <p class="small">
              <Cautions />
            </p>
            <Asked asked={forecast} what="the forecast">
              {(told) => <Sides forecast={told} />}
            </Asked>
            <Needs desk={got} today={today} changed={again} />
            <Stock desk={got} forecast={forecast.got} />
            {!got.row.closed_at && <Placing desk={got} today={today} changed={again} />}
            <Records household={household} key={forecast.got?.as_of} />
            {!got.row.closed_at && <Closing key="closing" desk={got} today={today} changed={again} />}
          </>
        )}
      </Asked>
    </section>
  );
}
