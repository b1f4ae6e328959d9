// SPDX-License-Identifier: MIT
// Rounds that were ticked are confirmed together, or none of them: if another planner was first, it says so and which.
import { Refused } from "../../access/refused";
import { say_done } from "../common/done";
import { is_restarted } from "../common/said";
import { useSend } from "../common/use_send";
import { count_of, list_words } from "../common/words";
import type { Plan } from "../round_types";
import { StandsNow } from "./stands_now";

interface Props {
  plan: Plan;
  rounds: readonly string[];
  all: readonly string[];
  choose: (rounds: readonly string[]) => void;
  again: () => void;
}

interface Confirmed {
  confirmed: { round: string; stops: number }[];
  withdrawn: { stop: string; round: string }[];
}

export function Confirming({ plan, rounds, all, choose, again }: Props) {
  const { busy, said, problem, clear, send } = useSend();
  const confirm = async (): Promise<void> => {
    const answer = await send<Confirmed>("/plan/confirm", { plan: plan.plan, rounds });
    if (!answer) return;
    const stops = answer.confirmed.reduce((sum, one) => sum + one.stops, 0);
    const gone = answer.withdrawn.length ? ` ${count_of(answer.withdrawn.length, "stop")} that stood before ${answer.withdrawn.length === 1 ? "is" : "are"} withdrawn.` : "";
    say_done(`Confirmed: ${list_words(answer.confirmed.map((one) => one.round))}, ${count_of(stops, "stop")}. The homes read it now.${gone}`);
    choose([]);
    again();
  };
  return (
    <div class="confirming">
      <Refused said={said} />
      <StandsNow problem={problem} clear={clear} again={again} />
      {all.length > 0 && rounds.length === 0 && <p>{`${count_of(all.length, "round")} not confirmed as planned here. Tick those to confirm.`}</p>}
      {rounds.length > 0 && !is_restarted(problem) && (
        <div class="answers">
          <button type="button" class="main" disabled={busy} onClick={() => void confirm()}>
            {`Confirm ${count_of(rounds.length, "round")}`}
          </button>
          <button type="button" onClick={() => choose([])}>
            Untick all
          </button>
        </div>
      )}
    </div>
  );
}
