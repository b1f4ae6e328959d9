// SPDX-License-Identifier: MIT
// What the agency entered for "Something is wrong now", kept on this phone so that it is there without a signal.
import type { Help, Household } from "../api/types";
import { kept } from "./kept";

export function keep_help({ help }: Household): void {
  if (help !== undefined) kept.set("help", help && JSON.stringify(help));
}

export function kept_help(): Help | null {
  try {
    return JSON.parse(kept.get("help") ?? "null") as Help | null;
  } catch {
    return null;
  }
}
