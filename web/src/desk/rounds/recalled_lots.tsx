// SPDX-License-Identifier: MIT
// Lots on a round that were recalled after it was planned, said above everything else: the round does not leave with them.
import { list_words } from "../common/words";
import type { Round } from "../round_types";

export const carries_recalled = ({ picking }: Round): boolean => picking.some((one) => one.recalled);

function what_to_do({ state }: Round): string {
  if (state === "planned") return "The round is not loaded and does not leave with it. Confirm it again from the plan, which leaves that lot out, and print its list again.";
  if (state === "loaded") return "The round does not leave with it. Cancel the round, set that lot aside, and plan it again.";
  if (state === "cancelled") return "Set it aside.";
  return "It is on its way or delivered: call these homes. The lot's page has the list.";
}

export function RecalledLots({ round }: { round: Round }) {
  const recalled = round.picking.filter((one) => one.recalled);
  if (!recalled.length) return null;
  return (
    <section class="first" aria-labelledby="recalled-name">
      <h2 id="recalled-name">{`Recalled: lot ${list_words(recalled.map((one) => one.lot))}`}</h2>
      <p>{what_to_do(round)}</p>
      {recalled.map((one) => (
        <p key={one.item + one.lot}>
          <a href={`#desk/lot?${new URLSearchParams({ lot: one.lot, item: one.item })}`}>{`Lot ${one.lot} of ${one.item}`}</a>
        </p>
      ))}
      {round.state === "planned" && (
        <p>
          <a href={`#desk/plan?${new URLSearchParams({ round: round.round })}`}>The plan</a>
        </p>
      )}
    </section>
  );
}
