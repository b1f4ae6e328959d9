// SPDX-License-Identifier: MIT
// "Sign this phone out": what is lost is said before.
import { sign_out } from "../api/access";
import type { FormProps } from "../forms/use_form";
import { Screen } from "../parts/screen";
import { forget_everything } from "../state/database";
import { forget_drafts, kept } from "../state/kept";
import { try_again_now } from "../state/outbox";
import { Refused } from "./refused";
import { useAsk } from "./use_ask";
import { tell } from "../words/catalogue/access";

export function SignOutScreen({ desk, done }: FormProps) {
  const { busy, said, ask } = useAsk();
  const { waiting, session } = desk.value;
  const leave = async (): Promise<void> => {
    if (!(await ask(sign_out))) return;
    await forget_everything();
    forget_drafts();
    kept.set("household", null);
    window.location.replace("/in");
  };
  return (
    <Screen title={tell("sign_out_screen.sign_this_phone_out")} back={done}>
      <ul class="cautions">
        <li>{tell("sign_out_screen.this_page_then_shows_no_forecast")}</li>
        <li>{tell("sign_out_screen.to_come_back_it_needs_a")}</li>
        {session?.role === "household" && <li>{tell("sign_out_screen.if_this_is_the_only_phone")}</li>}
      </ul>
      {waiting.length > 0 && (
        <div class="notice" role="alert">
          <p class="strong">{tell("sign_out_screen.not_sent_yet_and_lost_by")}</p>
          <ul>
            {waiting.map((one) => <li key={one.key}>{one.words}</li>)}
          </ul>
          <button type="button" onClick={try_again_now}>
            {tell("sign_out_screen.try_to_send_now")}
          </button>
        </div>
      )}
      <Refused said={said} />
      <button class="main" type="button" disabled={busy} onClick={() => void leave()}>
        {waiting.length > 0 ? tell("sign_out_screen.sign_out_and_lose_them") : tell("sign_out_screen.sign_out")}
      </button>
    </Screen>
  );
}
