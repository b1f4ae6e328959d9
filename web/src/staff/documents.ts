// SPDX-License-Identifier: MIT
// A document of the service on a page: asked for when the page opens, again on demand; what was shown stays until the
// next one is here.
import { useEffect, useRef, useState } from "preact/hooks";
import { get } from "../api/client";
import { refusal_words, type Said } from "../words/refusals";

export interface Asked<T> {
  got: T | null;
  said: Said | null;
  asking: boolean;
  again: () => Promise<void>;
}

/// `path` null: nothing is asked for yet.
export function useDocument<T>(path: string | null): Asked<T> {
  const [state, set] = useState<{ path: string | null; got: T | null; said: Said | null; asking: boolean }>({ path: null, got: null, said: null, asking: path !== null });
  const wanted = useRef(path);
  wanted.current = path;
  const again = async (): Promise<void> => {
    if (path === null) return;
    set((before) => ({ path, got: before.path === path ? before.got : null, said: null, asking: true }));
    const answer = await get<T>(path);
    if (wanted.current !== path) return;
    if ("got" in answer) set({ path, got: answer.got, said: null, asking: false });
    else set((before) => ({ ...before, path, said: refusal_words(answer), asking: false }));
  };
  useEffect(() => void again(), [path]);
  const now = state.path === path;
  return { got: now ? state.got : null, said: now ? state.said : null, asking: state.asking || !now, again };
}
