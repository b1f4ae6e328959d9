// SPDX-License-Identifier: MIT
// "In and out": tables in, tried first without storing anything; tables out; the address of the rounds' calendar.
import type { Session } from "../../api/access";
import { may } from "../../state/session";
import { Feed } from "./feed";
import { Import } from "./import";

const exports: readonly { name: string; words: string; about: string }[] = [
  { name: "households", words: "Households", about: "reference, area, zone, changing times, the door" },
  { name: "items", words: "Items", about: "pack size, lead time, intervals" },
  { name: "counts", words: "Counts", about: "what is in each house, by lot and place" },
  { name: "forecast", words: "Forecast", about: "each side's phrase and date, stock in days, order by" },
];

function Out() {
  return (
    <section aria-labelledby="out-name">
      <h2 id="out-name">Out</h2>
      <p class="small">What comes in as a table goes out in the same columns. Cells that begin with = + - @ get a ' before them, so that no program runs them.</p>
      <ul class="lines">
        {exports.map((one) => (
          <li key={one.name} class="stop-head">
            <p>
              <b>{one.words}</b>
              <small>{one.about}</small>
            </p>
            <a class="small-act" href={`/api/v1/exports/${one.name}.csv`} download>
              CSV<span class="unseen">{` of ${one.words}`}</span>
            </a>
            <a class="small-act" href={`/api/v1/exports/${one.name}.json`} download>
              JSON<span class="unseen">{` of ${one.words}`}</span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

export function InAndOut({ session }: { session: Session }) {
  return (
    <>
      <h1 tabIndex={-1}>In and out</h1>
      <div class="wide-and-narrow">
        <Import />
        <div>
          <Out />
          {may(session, "plan-rounds") && <Feed />}
        </div>
      </div>
    </>
  );
}
