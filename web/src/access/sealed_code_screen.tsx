// SPDX-License-Identifier: MIT
// The home's recovery code, for an envelope: shown once, printed, sealed.
import { useState } from "preact/hooks";
import { make_sealed_code } from "../api/access";
import { context_of } from "../forms/context_of";
import type { FormProps } from "../forms/use_form";
import { Screen } from "../parts/screen";
import { date_words } from "../words/moments";
import { Refused } from "./refused";
import { useAsk } from "./use_ask";
import { tell } from "../words/catalogue/access";

export function SealedCodeScreen({ desk, done }: FormProps) {
  const { busy, said, ask } = useAsk();
  const [code, set_code] = useState("");
  const { now } = desk.value;
  const make = async (): Promise<void> => {
    const answer = await ask(() => make_sealed_code(desk.name));
    if (answer) set_code(answer.got.code);
  };
  const day = date_words(new Intl.DateTimeFormat("sv-SE", { timeZone: context_of(desk).zone }).format(now));
  return (
    <Screen title={tell("sealed_code_screen.a_sealed_recovery_code")} back={done}>
      <p class="told">{tell("sealed_code_screen.for_the_day_when_every_phone")}</p>
      {!code && <p class="told">{tell("sealed_code_screen.making_a_new_one_makes_the")}</p>}
      <Refused said={said} />
      {code ? (
        <>
          <section class="card printed" aria-label={tell("sealed_code_screen.the_code")}>
            <h2>{tell("sealed_code_screen.recovery_code_of_household", { name: desk.name })}</h2>
            <p class="code">{code}</p>
            <p class="small">{tell("sealed_code_screen.made_to_use_it_open_in", { day, now: now.getUTCFullYear(), origin: window.location.origin })}</p>
          </section>
          <p class="told">{tell("sealed_code_screen.it_is_shown_now_and_never")}</p>
          <div class="ways">
            <button type="button" onClick={() => window.print()}>
              {tell("sealed_code_screen.print_it")}
            </button>
            <button class="main" type="button" onClick={() => done()}>
              {tell("sealed_code_screen.it_is_in_its_envelope")}
            </button>
          </div>
        </>
      ) : (
        <button class="main" type="button" disabled={busy} onClick={() => void make()}>
          {tell("sealed_code_screen.make_a_new_code")}
        </button>
      )}
    </Screen>
  );
}
