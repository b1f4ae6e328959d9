// SPDX-License-Identifier: MIT
// One round of the plan beside it: its stops, what each gets, and for each a way elsewhere.
import { useEffect, useRef, useState } from "preact/hooks";
import { Refused } from "../../access/refused";
import { date_words, today_of } from "../common/dates";
import { say_done } from "../common/done";
import { useSend } from "../common/use_send";
import { count_of, state_words } from "../common/words";
import type { Calendar, Plan, PlanRound, PlanStop } from "../round_types";
import { Adding, Adjust } from "./adjust";
import { line_words } from "./lot_line";
import { Street } from "./street";
import { street_of } from "./plan_model";

interface Props {
  round: PlanRound;
  plan: Plan;
  calendar: Calendar | null;
  again: () => void;
  close: () => void;
}

function marks(stop: PlanStop): string {
  return [stop.confirmed ? "confirmed" : "not confirmed", stop.pinned && "decided by hand", stop.late && "too late"].filter(Boolean).join(", ");
}

function Stop({ stop, can_move, ...props }: Props & { stop: PlanStop; can_move: boolean }) {
  const { round, plan, again } = props;
  const [open, set_open] = useState(false);
  const { busy, said, send } = useSend();
  const forget = async (): Promise<void> => {
    if (!(await send("/plan/decisions", { plan: plan.plan, stop: stop.stop, round: round.round, clear: true }))) return;
    say_done(`The decision about ${stop.stop} is taken back.`);
    again();
  };
  return (
    <li>
      <div class="stop-head">
        <p>
          <b>{stop.stop}</b>
          <small>{marks(stop)}</small>
        </p>
        {can_move && (
          <button type="button" class="small-act" aria-expanded={open} onClick={() => set_open(!open)}>
            Move<span class="unseen">{` ${stop.stop}`}</span>
          </button>
        )}
        {can_move && stop.pinned && (
          <button type="button" class="small-act" disabled={busy} onClick={() => void forget()}>
            Take the decision back<span class="unseen">{` about ${stop.stop}`}</span>
          </button>
        )}
      </div>
      <Refused said={said} />
      <ul class="stop-lines">
        {stop.lines.map((one) => (
          <li key={`${one.household}${one.item}`}>
            <a href={`#desk?${new URLSearchParams({ household: one.household })}`}>{one.household}</a>
            {` ${line_words(one)}${one.late ? ", too late" : ""}`}
          </li>
        ))}
      </ul>
      {open && <Adjust {...props} stop={stop.stop} from={round.round} done={() => set_open(false)} />}
    </li>
  );
}

export function PlannedRound(props: Props) {
  const { round, close } = props;
  const heading = useRef<HTMLHeadingElement>(null);
  const today = today_of(new Date());
  useEffect(() => heading.current?.focus({ preventScroll: window.innerWidth > 900 }), []);
  const can_move = round.state === "open" || round.state === "planned";
  const pressed = (event: KeyboardEvent): void => {
    if (event.key === "Escape" && !(event.target as HTMLElement).matches("input, select")) close();
  };
  return (
    <section class="leaf beside-list" aria-labelledby="beside-name" onKeyDown={pressed}>
      <div class="beside-head">
        <h2 id="beside-name" tabIndex={-1} ref={heading}>
          {date_words(round.date, today)}
          <small>{round.round.replace(` ${round.date}`, "")}</small>
        </h2>
        <button type="button" class="small-act" onClick={close}>
          Close
        </button>
      </div>
      <p>{`Area ${round.area}. ${round.stops.length} of ${count_of(round.stops_at_most, "stop")}, ${state_words[round.state]}.`}</p>
      <Street houses={street_of(round)} wide={22} />
      {round.state !== "open" && (
        <p>
          <a href={`#desk/round?${new URLSearchParams({ round: round.round })}`}>Picking list, delivery sheet, print</a>
        </p>
      )}
      {round.stops.length === 0 && <p>No stop yet.</p>}
      <ul class="stops">
        {round.stops.map((one) => <Stop key={one.stop} {...props} stop={one} can_move={can_move} />)}
      </ul>
      {can_move && <Adding {...props} />}
    </section>
  );
}
