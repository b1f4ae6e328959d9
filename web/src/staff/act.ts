// SPDX-License-Identifier: MIT
// Something a person of the agency records by a button: sent under one key however often it is tried, refused in words,
// and undone from the line that says what was done.
import { useRef, useState } from "preact/hooks";
import { post, type Answer } from "../api/client";
import type { FieldError } from "../api/types";
import { refusal_words, type Said } from "../words/refusals";

export interface Done {
  words: string;
  /// Null: it cannot be undone.
  undo: (() => Promise<void>) | null;
}

export interface Acting {
  busy: boolean;
  said: Said | null;
  errors: FieldError[];
  done: Done | null;
  /// Null: refused, or no signal; `said` has the words, `errors` the places. The same body is sent again under the same key.
  send: <T>(path: string, body: unknown) => Promise<T | null>;
  /// Says what was done; shown by <DoneLine>.
  tell: (done: Done | null) => void;
  clear: () => void;
}

export function useAct(): Acting {
  const [busy, set_busy] = useState(false);
  const [said, set_said] = useState<Said | null>(null);
  const [errors, set_errors] = useState<FieldError[]>([]);
  const [done, tell] = useState<Done | null>(null);
  const last = useRef({ what: "", key: "" });
  const send = async <T>(path: string, body: unknown): Promise<T | null> => {
    const what = path + JSON.stringify(body);
    if (last.current.what !== what) last.current = { what, key: crypto.randomUUID() };
    set_busy(true);
    set_said(null);
    set_errors([]);
    const answer: Answer<T> = await post<T>(path, body, last.current.key);
    set_busy(false);
    if ("got" in answer) {
      last.current = { what: "", key: "" };
      return answer.got;
    }
    set_said(refusal_words(answer));
    if ("problem" in answer) set_errors(answer.problem.errors ?? []);
    return null;
  };
  const clear = (): void => {
    set_said(null);
    set_errors([]);
  };
  return { busy, said, errors, done, send, tell, clear };
}
