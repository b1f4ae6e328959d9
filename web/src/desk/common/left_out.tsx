// SPDX-License-Identifier: MIT
// Whom a list or a sum leaves out: a home whose record cannot be read closes no page, and must not be missed on it.
import { list_words } from "./words";

export interface LeavesOut {
  left_out?: readonly string[];
}

export function LeftOut({ left_out }: LeavesOut) {
  if (!left_out?.length) return null;
  return <p class="strong left-out">{`Not in here: ${list_words(left_out)}. What was recorded there cannot be read; the service's log says why.`}</p>;
}
