// SPDX-License-Identifier: MIT
// What was refused, and what to do.
import type { Said } from "../words/refusals";

export function Refused({ said }: { said: Said | null }) {
  return (
    <div role="alert">
      {said && (
        <div class="notice">
          <p class="strong">{said.title}</p>
          {said.detail && <p>{said.detail}</p>}
        </div>
      )}
    </div>
  );
}
