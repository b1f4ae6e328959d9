// SPDX-License-Identifier: MIT
// The way of every profile: it is read back by the service, which stores nothing, mended, read again, and then proposed. What
// was changed after it was read must be read anew, so that nobody proposes what they have not seen.
import { useState } from "preact/hooks";
import { useAct, type Acting } from "../staff/act";
import { useAsk } from "../access/use_ask";
import { send_once } from "../api/client";
import type { FieldError } from "../api/types";
import { go } from "../staff/place";
import type { Said } from "../words/refusals";
import type { Proposal, ReadBack } from "./api_profiles";

export interface Proposing {
  act: Acting;
  said: Said | null;
  busy: boolean;
  back: ReadBack | null;
  /// The form has changed since it was read.
  changed: boolean;
  read: () => Promise<void>;
  propose: () => Promise<void>;
}

/// What the service refused to read at all is to mend like the rest, and stands beside its field.
function to_mend(errors: readonly FieldError[]): ReadBack {
  const problems = errors.map(({ place, reason }) => ({ line: null, column: null, place, reason }));
  return { problems, usable: false, fit: null, residuals: [], text: "" };
}

export function useProposing(body: Record<string, unknown>, proposed: () => void): Proposing {
  const act = useAct();
  const reading = useAsk();
  const [read_as, set_read] = useState<{ body: string; back: ReadBack } | null>(null);
  const now = JSON.stringify(body);
  const read = async (): Promise<void> => {
    act.clear();
    let refused: readonly FieldError[] = [];
    const answer = await reading.ask(async () => {
      const got = await send_once<ReadBack>("POST", "/profiles/read", body);
      if ("problem" in got) refused = got.problem.errors ?? [];
      return got;
    });
    if (refused.length) reading.say(null);
    set_read(answer ? { body: now, back: answer.got } : refused.length ? { body: now, back: to_mend(refused) } : null);
  };
  const propose = async (): Promise<void> => {
    const kept = await act.send<Proposal>("/profile-proposals", body);
    if (!kept) return;
    proposed();
    go("bench/proposal", { number: String(kept.number) });
  };
  return { act, said: reading.said ?? act.said, busy: reading.busy || act.busy, back: read_as?.back ?? null, changed: read_as !== null && read_as.body !== now, read, propose };
}
