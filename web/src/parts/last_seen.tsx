// SPDX-License-Identifier: MIT
// Which reading a question is about, in words: what was seen, of which side, and when.
import { useEffect, useState } from "preact/hooks";
import { get, household_path } from "../api/client";
import type { Entry, Side } from "../api/types";
import type { Desk } from "../state/desk";
import { context_of } from "../forms/context_of";
import { seen_words } from "../words/seen";

export function LastSeen({ desk, side }: { desk: Desk; side: Side }) {
  const [entries, set_entries] = useState<Entry[]>([]);
  const last = desk.value.forecast?.sides[side].last_recorded_at;
  useEffect(() => {
    let here = true;
    void get<{ entries: Entry[] }>(`${household_path(desk.name)}/entries?limit=50`).then((answer) => {
      if (here && "got" in answer) set_entries(answer.got.entries);
    });
    return () => {
      here = false;
    };
  }, [desk, side, last]);
  const words = seen_words(entries, side, context_of(desk).zone, desk.value.now);
  return words ? <p>{words}</p> : null;
}
