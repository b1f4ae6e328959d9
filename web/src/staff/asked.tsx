// SPDX-License-Identifier: MIT
// Where a document of the service will stand: that it is asked for, why it is not there, another attempt.
import type { ComponentChildren } from "preact";
import type { Asked } from "./documents";
import { tell } from "../words/catalogue/staff";

export function AskedFor<T>({ asked, children }: { asked: Asked<T>; children: (got: T) => ComponentChildren }) {
  const { got, said, asking, again } = asked;
  return (
    <>
      <div role="status">
        {said && (
          <div class="notice">
            <p class="strong">{said.title}</p>
            {said.detail && <p>{said.detail}</p>}
          </div>
        )}
        {!got && asking && <p class="small">{tell("staff.asking")}</p>}
      </div>
      {said && (
        <button type="button" disabled={asking} onClick={() => void again()}>
          {tell("staff.try_again")}
        </button>
      )}
      {got && children(got)}
    </>
  );
}
