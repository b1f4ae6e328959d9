// SPDX-License-Identifier: MIT
// A sealed recovery code of this home was used: everyone who still is, or is again, signed in is told, until they close it.
import { useState } from "preact/hooks";
import type { Desk } from "../state/desk";
import { kept } from "../state/kept";
import { open_screen } from "../state/screen";
import { may } from "../state/session";
import { moment_words } from "../words/moments";
import { tell } from "../words/catalogue/first";

export function RecoveryNotice({ desk, zone }: { desk: Desk; zone: string }) {
  const { session, now } = desk.value;
  const [seen, set_seen] = useState(kept.get("recovery_seen"));
  const at = session?.recovery_used_at;
  if (!at || at === seen) return null;
  const close = (): void => {
    kept.set("recovery_seen", at);
    set_seen(at);
  };
  return (
    <div class="notice" role="status">
      <p class="strong">{tell("recovery_notice.the_sealed_recovery_code_of_this", { moment: moment_words(new Date(at), now, zone) })}</p>
      <p>{tell("recovery_notice.all_phones_that_were_signed_in")}</p>
      <div class="answers">
        {may(session, "make-sealed-code") && (
          <button type="button" onClick={() => open_screen("sealed_code")}>
            {tell("recovery_notice.make_a_new_code")}
          </button>
        )}
        <button type="button" onClick={close}>
          {tell("recovery_notice.close")}
        </button>
      </div>
    </div>
  );
}
