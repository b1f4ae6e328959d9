// SPDX-License-Identifier: MIT
// Something a planner does. One intention has one key until the service has answered it, so that a second press after a
// broken connection records nothing twice.
import { useRef, useState } from "preact/hooks";
import { post, problem_code } from "../../api/client";
import type { Problem } from "../../api/types";
import { new_key } from "./key";
import { desk_refusal, type Said } from "./said";

export interface Sending {
  busy: boolean;
  said: Said | null;
  /// The problem behind `said`, where the service named one.
  problem: Problem | null;
  code: string;
  clear: () => void;
  send: <T>(path: string, body: unknown) => Promise<T | null>;
}

export function useSend(): Sending {
  const [busy, set_busy] = useState(false);
  const [said, say] = useState<Said | null>(null);
  const [problem, set_problem] = useState<Problem | null>(null);
  const meant = useRef({ what: "", key: "" });
  const clear = (): void => {
    say(null);
    set_problem(null);
  };
  const send = async <T>(path: string, body: unknown): Promise<T | null> => {
    const what = path + JSON.stringify(body);
    if (meant.current.what !== what) meant.current = { what, key: new_key() };
    clear();
    set_busy(true);
    const answer = await post<T>(path, body, meant.current.key);
    set_busy(false);
    if (!("no_signal" in answer)) meant.current = { what: "", key: "" };
    if ("got" in answer) return answer.got ?? ({} as T);
    say(desk_refusal(answer));
    if ("problem" in answer) set_problem(answer.problem);
    return null;
  };
  return { busy, said, problem, code: problem ? problem_code(problem) : "", clear, send };
}
