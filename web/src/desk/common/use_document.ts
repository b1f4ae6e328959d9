// SPDX-License-Identifier: MIT
// A document of the service that a page shows: asked for when the page opens and again when it is told to. While it is
// asked for again what stands there stays.
import { useEffect, useRef, useState } from "preact/hooks";
import { get } from "../../api/client";
import type { Problem } from "../../api/types";
import { desk_refusal, type Said } from "./said";
import { heed_zone } from "./zone";

export interface Asked<T> {
  got: T | null;
  said: Said | null;
  /// Behind `said`, where the service named one.
  problem: Problem | null;
  busy: boolean;
  again: () => void;
}

interface State<T> {
  path: string | null;
  got: T | null;
  said: Said | null;
  problem: Problem | null;
  busy: boolean;
}

/// Null as path: nothing is asked. `patience`: in milliseconds, for what takes the service long.
export function useDocument<T>(path: string | null, patience?: number): Asked<T> {
  const [state, set] = useState<State<T>>({ path: null, got: null, said: null, problem: null, busy: true });
  const turn = useRef(0);
  const ask = (): void => {
    const mine = ++turn.current;
    if (path === null) return;
    set((before) => ({ ...before, got: before.path === path ? before.got : null, said: null, problem: null, path, busy: true }));
    void get<T>(path, patience).then((answer) => {
      if (mine !== turn.current) return;
      if ("got" in answer) heed_zone(answer.got);
      if ("got" in answer) set({ path, got: answer.got, said: null, problem: null, busy: false });
      else set((before) => ({ ...before, said: desk_refusal(answer), problem: "problem" in answer ? answer.problem : null, busy: false }));
    });
  };
  useEffect(() => {
    ask();
    return () => void turn.current++;
  }, [path]);
  return { got: state.path === path ? state.got : null, said: state.said, problem: state.problem, busy: state.busy, again: ask };
}
