// SPDX-License-Identifier: MIT
// The forecast of a side as it was made at an earlier time: with the entries, profiles and knowledge of then alone.
import { useState } from "preact/hooks";
import { Refused } from "../access/refused";
import { useAsk } from "../access/use_ask";
import { get, household_path } from "../api/client";
import type { Side, SideForecast } from "../api/types";
import { Input } from "../parts/fields";
import { moment_of, read_wall, rfc3339 } from "../time/zone";
import { moment_words } from "../words/moments";
import { phrase_of } from "../words/phrases";
import { tell } from "../words/catalogue/bench";

interface Then {
  as_of: string;
  sides: Record<Side, SideForecast>;
}

interface Props {
  household: string;
  side: Side;
  zone: string;
}

export function AsItWasThen({ household, side, zone }: Props) {
  const { busy, said, ask } = useAsk();
  const [at, set_at] = useState("");
  const [error, set_error] = useState("");
  const [got, set_got] = useState<Then | null>(null);
  const look = async (event: Event): Promise<void> => {
    event.preventDefault();
    const wall = read_wall(at);
    set_error(wall ? "" : tell("bench.choose_a_day_and_a_time"));
    if (!wall) return;
    const answer = await ask(() => get<Then>(`${household_path(household)}/forecast-then?at=${encodeURIComponent(rfc3339(moment_of(wall, zone), zone))}`));
    set_got(answer?.got ?? null);
  };
  const of_side = got?.sides[side];
  const say = (moment: string): string => moment_words(new Date(moment), new Date(), zone);
  return (
    <details class="no-print">
      <summary>{tell("bench.what_the_forecast_was_at_an")}</summary>
      <form onSubmit={(event) => void look(event)} noValidate>
        <Input name="then" legend={tell("bench.when_by_the_clock_at_the")} type="datetime-local" value={at} error={error || undefined} onChange={set_at} />
        <Refused said={said} />
        <button type="submit" disabled={busy}>
          {tell("bench.look")}
        </button>
      </form>
      <div role="status">
        {got && of_side && (
          <>
            <p class="lead">{tell("bench.it_then_said", { words: phrase_of(of_side, of_side.change_by ? say(of_side.change_by) : null).words })}</p>
            <p class="small">{[of_side.change_by ? tell("bench.change_by_stood_at", { when: say(of_side.change_by) }) : "", tell("bench.with_what_was_known_its_entries", { when: say(got.as_of) })].filter(Boolean).join(" ")}</p>
          </>
        )}
      </div>
    </details>
  );
}
