// SPDX-License-Identifier: MIT
// When it was computed, and whether something newer is being worked in.
import { moment_words } from "../words/moments";
import { here } from "./words";

export function Fresh({ as_of, fresh, waiting = 0 }: { as_of: string; fresh: boolean; waiting?: number }) {
  const newer = waiting > 0 ? `${waiting} ${waiting === 1 ? "household is" : "households are"} being looked at again.` : "Newer entries are being worked in.";
  return (
    <p class="small">
      {`Computed ${moment_words(new Date(as_of), new Date(), here())}.${fresh && !waiting ? "" : ` ${newer}`} It tells what the records say, and never that a side works.`}
    </p>
  );
}
