// SPDX-License-Identifier: MIT
// A document on its page: being asked for, refused with another attempt, or there.
import type { ComponentChildren } from "preact";
import type { Asked as AskedFor } from "./use_document";

interface Props<T> {
  asked: AskedFor<T>;
  what: string;
  children: (got: T) => ComponentChildren;
}

export function Asked<T>({ asked, what, children }: Props<T>) {
  const { got, said, again } = asked;
  return (
    <>
      {said && (
        <div class="notice" role="alert">
          <p class="strong">{said.title}</p>
          {said.detail && <p>{said.detail}</p>}
          {got && <p>What stands here may be old.</p>}
          <button type="button" onClick={again}>
            Try again
          </button>
        </div>
      )}
      {!got && !said && <p class="asking" role="status">{`Asking for ${what}…`}</p>}
      {got && children(got)}
    </>
  );
}
