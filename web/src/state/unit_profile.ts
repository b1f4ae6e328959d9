// SPDX-License-Identifier: MIT
// The profile of the unit in use: its marks, its steps, what it can be set to. Asked for once, and kept on this phone, so
// that it is there without a signal too.
import { useEffect, useState } from "preact/hooks";
import { get } from "../api/client";
import type { Household, StimulatorProfile } from "../api/types";
import { kept } from "./kept";
import { unit_in_use } from "./units";

const told_before = new Map<string, StimulatorProfile>();
const asked = new Map<string, Promise<void>>();

/// Both sides' cards need it at the same moment.
function ask_once(stimulator: string): Promise<void> {
  const found = asked.get(stimulator) ?? ask(stimulator).finally(() => asked.delete(stimulator));
  asked.set(stimulator, found);
  return found;
}

async function ask(stimulator: string): Promise<void> {
  const answer = await get<StimulatorProfile>(`/profiles/stimulators/${encodeURIComponent(stimulator)}`);
  if (!("got" in answer)) return;
  told_before.set(stimulator, answer.got);
  const { id, marks, handling, settings_range } = answer.got;
  kept.set("unit", JSON.stringify({ id, marks, handling, settings_range }));
}

function known_here(stimulator: string): StimulatorProfile | null {
  const told = told_before.get(stimulator);
  if (told) return told;
  try {
    const profile = JSON.parse(kept.get("unit") ?? "null") as StimulatorProfile | null;
    return profile?.id === stimulator ? profile : null;
  } catch {
    return null;
  }
}

export function useProfile(household: Household | null): StimulatorProfile | null {
  const stimulator = unit_in_use(household)?.stimulator ?? "";
  const [, redraw] = useState(0);
  useEffect(() => {
    if (!stimulator || told_before.has(stimulator)) return undefined;
    let here = true;
    void ask_once(stimulator).then(() => here && redraw((n) => n + 1));
    return () => {
      here = false;
    };
  }, [stimulator]);
  return known_here(stimulator);
}
