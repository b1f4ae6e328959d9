// SPDX-License-Identifier: MIT
// The recovery codes of a staff member, shown once: to be printed and put away.
import { useState } from "preact/hooks";
import { tell } from "../words/catalogue/access";

export function PrintedCodes({ codes, done }: { codes: string[]; done: () => void }) {
  const [put_away, set_put_away] = useState(false);
  return (
    <main>
      <h1>{tell("printed_codes.your_recovery_codes")}</h1>
      <p class="told">{tell("printed_codes.for_the_day_when_the_passkey")}</p>
      <section class="card printed" aria-label={tell("printed_codes.recovery_codes")}>
        <h2>{tell("printed_codes.recovery_codes_for_cellarer")}</h2>
        <p class="small only-printed">{tell("printed_codes.to_use_one_open_in_and", { origin: window.location.origin })}</p>
        <ol class="codes">
          {codes.map((code) => <li key={code}>{code}</li>)}
        </ol>
      </section>
      <p class="told">
        <button class="wide" type="button" onClick={() => window.print()}>
          {tell("printed_codes.print_them")}
        </button>
      </p>
      <label class="choice told">
        <input type="checkbox" checked={put_away} onChange={(event) => set_put_away(event.currentTarget.checked)} />
        <span>{tell("printed_codes.they_are_printed_or_written_down")}</span>
      </label>
      <button class="main" type="button" disabled={!put_away} onClick={done}>
        {tell("printed_codes.go_on")}
      </button>
    </main>
  );
}
