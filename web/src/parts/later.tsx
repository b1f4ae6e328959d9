// SPDX-License-Identifier: MIT
// Where a part of the pages will stand: nothing for a moment, then that it is being fetched, then the part itself; and
// if it cannot be fetched, why, what to do meanwhile, and another attempt.
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import { get } from "../api/client";
import type { Part } from "../state/part";
import { tell } from "../words/catalogue/first";

type Stage = "quiet" | "fetching" | "failed";

const quiet_ms = 400;

/// A browser may keep the failure of a file for as long as the page lives; if the service can be reached all the same,
/// the page is opened anew, on the same screen.
async function try_again<T>(part: Part<T>): Promise<T> {
  try {
    return await part.load();
  } catch (failure) {
    if (!("no_signal" in (await get("/health")))) window.location.reload();
    throw failure;
  }
}

function usePart<T>(part: Part<T>): { got: T | null; stage: Stage; again: () => void } {
  const [stage, set_stage] = useState<Stage>("quiet");
  const [, redraw] = useState(0);
  const fetch_with = (load: () => Promise<T>): (() => void) => {
    let here = true;
    const timer = setTimeout(() => set_stage("fetching"), quiet_ms);
    const done = (act: () => void): void => {
      clearTimeout(timer);
      if (here) act();
    };
    void load().then(() => done(() => redraw((n) => n + 1)), () => done(() => set_stage("failed")));
    return () => {
      here = false;
      clearTimeout(timer);
    };
  };
  const again = (): void => void fetch_with(() => try_again(part));
  useEffect(() => {
    if (part.got) return undefined;
    const leave = fetch_with(() => part.load());
    window.addEventListener("online", again);
    return () => {
      leave();
      window.removeEventListener("online", again);
    };
  }, [part]);
  return { got: part.got, stage, again };
}

interface Props<T> {
  part: Part<T>;
  back?: () => void;
  children: (got: T) => ComponentChildren;
}

export function Later<T>({ part, back, children }: Props<T>) {
  const { got, stage, again } = usePart(part);
  if (got) return <>{children(got)}</>;
  return (
    <main>
      {back && (
        <button class="back" type="button" onClick={back}>
          {tell("later.back")}
        </button>
      )}
      <div role="status">
        {stage === "fetching" && <p>{tell("later.one_moment")}</p>}
        {stage === "failed" && (
          <div class="notice">
            <p class="strong">{tell("later.this_cannot_be_opened_now_no")}</p>
            <p>{tell("later.do_first_what_has_to_be")}</p>
          </div>
        )}
      </div>
      {stage === "failed" && (
        <button type="button" onClick={again}>
          {tell("later.try_again")}
        </button>
      )}
    </main>
  );
}
