// SPDX-License-Identifier: MIT
// What a home says did not come: whether the packs are back in the store, or lost. Until somebody says so they are in no
// shelf's books, and their lot is looked for by this home.
import { household_path } from "../../api/client";
import { Refused } from "../../access/refused";
import { say_done } from "../common/done";
import { useSend } from "../common/use_send";
import { list_words, of_item } from "../common/words";
import type { Round, RoundStop, Whereabouts } from "../round_types";

interface Missing {
  household: string;
  stop: string;
  packs_are: Whereabouts;
  pieces: { item: string; pieces: number }[];
}

interface Settled {
  packs: Whereabouts;
  sentence: string;
}

function missing_of({ stop, lines }: RoundStop): Missing[] {
  const homes = [...new Set(lines.map((one) => one.household))];
  return homes.flatMap((household) => {
    const its = lines.filter((one) => one.household === household);
    const pieces = its.filter((one) => one.did_not_come > 0).map((one) => ({ item: one.item, pieces: one.did_not_come }));
    const packs_are = its[0]?.packs_are ?? "not_known";
    return pieces.length || packs_are !== "not_known" ? [{ household, stop, packs_are, pieces }] : [];
  });
}

const said: Record<Exclude<Whereabouts, "not_known">, string> = { came_back: "came back to the store", lost: "are lost, and written off" };

export function NotCome({ round, again }: { round: Round; again: () => void }) {
  const { busy, said: refused, send } = useSend();
  const all = round.stops.flatMap(missing_of);
  if (!all.length) return null;
  const tell = (household: string, packs: Whereabouts): Promise<Settled | null> => send<Settled>(`${household_path(household)}/delivery-whereabouts`, { round: round.round, packs });
  const settle = async ({ household, packs_are }: Missing, packs: Whereabouts): Promise<void> => {
    const done = await tell(household, packs);
    if (!done) return;
    const back = async (): Promise<string | null> => {
      const undone = await tell(household, packs_are);
      if (undone) again();
      return undone && `${household}: as it was before.`;
    };
    say_done(`${household}: ${done.sentence}`, back);
    again();
  };
  return (
    <section aria-labelledby="not-come-name">
      <h2 id="not-come-name">Did not come</h2>
      <Refused said={refused} />
      <ul class="lines">
        {all.map((one) => (
          <li key={one.household}>
            <p>
              <a href={`#desk?${new URLSearchParams({ household: one.household })}`}>{one.household}</a>
              {`, stop ${one.stop}${one.pieces.length ? `: ${list_words(one.pieces.map(({ item, pieces }) => of_item(pieces, item)))}` : ""}${one.packs_are === "not_known" ? "" : `${one.pieces.length ? ". Others" : ": its packs"} ${said[one.packs_are]}`}`}
            </p>
            <div class="answers">
              {one.pieces.length > 0 && (
                <>
                  <button type="button" disabled={busy} onClick={() => void settle(one, "came_back")}>
                    They came back to the store<span class="unseen">{`: ${one.household}`}</span>
                  </button>
                  <button type="button" disabled={busy} onClick={() => void settle(one, "lost")}>
                    They are lost: write them off<span class="unseen">{`: ${one.household}`}</span>
                  </button>
                </>
              )}
              {one.packs_are !== "not_known" && (
                <button type="button" class="plain" disabled={busy} onClick={() => void settle(one, "not_known")}>
                  That was a mistake: take it back<span class="unseen">{`: ${one.household}`}</span>
                </button>
              )}
            </div>
          </li>
        ))}
      </ul>
      <p class="small">Whole packs count in the store again. Was the store counted since they came back? Then they are in that count: count once more.</p>
    </section>
  );
}
