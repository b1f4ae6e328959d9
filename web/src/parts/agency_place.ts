// SPDX-License-Identifier: MIT
// Where messages and deliveries stand on the first screen. What shows them comes in a file of its own, which is fetched only
// where there is something to show.
import type { ComponentType } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { agency_card } from "../pages/screens";
import { has_something } from "../state/correspondence";
import type { Desk } from "../state/desk";

/// The card, once it is wanted and here; and whether what stands below it will stay where it is.
export function useAgencyCard(desk: Desk): { Card: ComponentType<{ desk: Desk }> | null; settled: boolean } {
  const wanted = has_something(desk.value);
  const [failed, set_failed] = useState(false);
  const [, redraw] = useState(0);
  const ask = wanted && !agency_card.got;
  useEffect(() => {
    if (!ask) return;
    set_failed(false);
    void agency_card.load().then(() => redraw((n) => n + 1), () => set_failed(true));
  }, [ask, desk.value.signal]);  // once the signal is back, once more
  const settled = useRef(false);  // once and for all: what can be pressed does not go away again
  if (desk.value.told_settled && (!ask || failed)) settled.current = true;
  return { Card: wanted ? agency_card.got : null, settled: settled.current };
}
