// SPDX-License-Identifier: MIT
// A request that a person makes by a button: busy until it is answered, and what was refused in words.
import { useState } from "preact/hooks";
import type { Answer } from "../api/client";
import { refusal_words, type Said } from "../words/refusals";

export interface Asking {
  busy: boolean;
  said: Said | null;
  say: (said: Said | null) => void;
  /// Null: refused, or no signal; `said` then has the words. `if_not_known`: for a 401 where someone tried to sign in.
  ask: <T>(request: () => Promise<Answer<T>>, if_not_known?: Said) => Promise<{ got: T } | null>;
}

export function useAsk(): Asking {
  const [busy, set_busy] = useState(false);
  const [said, say] = useState<Said | null>(null);
  const ask = async <T>(request: () => Promise<Answer<T>>, if_not_known?: Said): Promise<{ got: T } | null> => {
    set_busy(true);
    say(null);
    const answer = await request();
    set_busy(false);
    if ("got" in answer) return answer;
    say(if_not_known && "problem" in answer && answer.problem.status === 401 ? if_not_known : refusal_words(answer));
    return null;
  };
  return { busy, said, say, ask };
}
