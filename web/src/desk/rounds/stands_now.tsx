// SPDX-License-Identifier: MIT
// Offered under a refusal because the plan on the page is not the newest one: how it stands now, with what was ticked or
// chosen here left as it is.
import type { Problem } from "../../api/types";
import { problem_code } from "../../api/client";
import { is_restarted } from "../common/said";

interface Props {
  problem: Problem | null;
  /// Takes the refusal away.
  clear: () => void;
  again: () => void;
}

export function StandsNow({ problem, clear, again }: Props) {
  if (!problem || problem_code(problem) !== "outdated") return null;
  const look = (): void => {
    clear();
    again();
  };
  return (
    <button type="button" class={is_restarted(problem) ? "main" : undefined} onClick={look}>
      {is_restarted(problem) ? "Work it out again" : "Show how it stands now"}
    </button>
  );
}
