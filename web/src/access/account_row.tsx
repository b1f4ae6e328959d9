// SPDX-License-Identifier: MIT
// One phone or one person's way in, with its end, which is asked about once more.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { tell } from "../words/catalogue/access";

interface Props {
  label: string;
  about: string;
  busy: boolean;
  /// Null: it may not be ended here.
  end: (() => void) | null;
  ended_words: string;
  /// Instead of its end: what there is to do with one's own.
  own?: ComponentChildren;
}

export function AccountRow({ label, about, busy, end, ended_words, own }: Props) {
  const [sure, set_sure] = useState(false);
  return (
    <li>
      <p class="strong">{label}</p>
      <p class="small">{about}</p>
      {sure && end && (
        <div class="ask" role="alert">
          <p class="strong">{tell("account_row.end", { label })}</p>
          <p>{ended_words}</p>
          <div class="answers">
            <button type="button" disabled={busy} onClick={end}>
              {tell("account_row.yes_end_it")}
            </button>
            <button type="button" onClick={() => set_sure(false)}>
              {tell("account_row.no")}
            </button>
          </div>
        </div>
      )}
      {!sure && (own ?? end) && (
        <div class="answers">
          {own ?? (
            <button type="button" onClick={() => set_sure(true)}>
              {tell("account_row.end_it")}<span class="unseen">{`: ${label}`}</span>
            </button>
          )}
        </div>
      )}
    </li>
  );
}
