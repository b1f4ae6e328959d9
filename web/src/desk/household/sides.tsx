// SPDX-License-Identifier: MIT
// What the home reads of its two sides, by the same rules: after a warning one sentence and nothing else, an old forecast
// says so first, and every forecast has its limit and its age.
import { both_sides, type Forecast, type Side } from "../../api/types";
import { Nights } from "../../parts/nights";
import { by_the_clock } from "../../state/dated";
import { alarm_sentence, asks_for_act, view_of } from "../../state/side_view";
import { zone_of } from "../../time/place";
import { age_words, clock, moment_words } from "../../words/moments";
import { side_name } from "../../words/names";
import { phrase_of } from "../../words/phrases";

interface Props {
  forecast: Forecast;
  side: Side;
  now: Date;
}

function recency({ forecast, side, now }: Props): string {
  const zone = zone_of(forecast);
  const last = forecast.sides[side].last_recorded_at;
  const said = last ? `last recorded ${moment_words(new Date(last), now, zone)}` : "nothing recorded yet";
  return `Computed ${clock(new Date(forecast.as_of), zone)}, ${age_words(now.getTime() - Date.parse(forecast.as_of))}; ${said}.`;
}

function Told(props: Props) {
  const { forecast, side, now } = props;
  const told = forecast.sides[side];
  const zone = zone_of(forecast);
  const view = view_of(forecast, side, [], now);
  if (view === "alarm") return <p class="desk-sentence">{alarm_sentence(side, told, zone, now)}</p>;
  if (view === "old") {
    return (
      <>
        <p class="desk-sentence">Old forecast.</p>
        <p>Too old to go by. If in doubt, put fresh cells in both sides.</p>
        <p class="small">{recency(props)}</p>
      </>
    );
  }
  const change_by = told.change_by ? moment_words(new Date(told.change_by), now, zone) : null;
  const phrase = phrase_of(told, change_by);
  return (
    <>
      <p class="desk-sentence">{phrase.words}</p>
      {phrase.limit && <p>{phrase.limit}</p>}
      <p class="small">{recency(props)}</p>
      {told.questions?.map((one) => <p class="small" key={one.code}>{`Asked at home: ${one.text}`}</p>)}
      {Boolean(told.nights?.length) && <Nights side={side} nights={told.nights ?? []} zone={zone} />}
    </>
  );
}

export function Sides({ forecast }: { forecast: Forecast }) {
  const now = new Date();
  const shown = by_the_clock(forecast, now);
  return (
    <section class="desk-sides" aria-label="The two sides, as the home reads them">
      {shown.in_hospital && <p>{`In hospital since ${moment_words(new Date(shown.in_hospital.since), now, zone_of(shown))}. Nothing is forecast until back home.`}</p>}
      {both_sides.map((side) => (
        <div key={side} class={asks_for_act(shown, side, [], now) ? "desk-side urgent" : "desk-side"}>
          <h3>{side_name[side]}</h3>
          <Told forecast={shown} side={side} now={now} />
        </div>
      ))}
      <p class="small">{`By the clock at home, ${zone_of(shown).split("/").pop()?.replace(/_/g, " ")}.`}</p>
      {shown.cautions?.map((one) => <p class="small" key={one}>{one}</p>)}
    </section>
  );
}
