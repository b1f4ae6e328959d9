// SPDX-License-Identifier: MIT
// The nights strip: one window for each coming night. The whole strip is one target; a tap opens the numbers.
import { useMemo, useState } from "preact/hooks";
import type { Night, Side } from "../api/types";
import { small_hours_of_tonight } from "../state/dated";
import { calendar_day, clock, night_words, short_day } from "../words/moments";
import { side_name, window_words } from "../words/names";
import { odds_words } from "../words/odds";
import { Window } from "./window";
import { tell } from "../words/catalogue/first";

interface Props {
  side: Side;
  nights: Night[];
  zone: string;
}

const shown = 10;

function label_of(night: Night, zone: string): string {
  return short_day(new Date(night.from), night.zone ?? zone, night.tonight ? tell("nights.tonight_short") : undefined);
}

function day_of(night: Night, zone: string): string {
  const from = new Date(night.from);
  const there = night.zone ?? zone;
  return night.tonight ? tell("nights.tonight", { night: night_words(small_hours_of_tonight(there, from), there) }) : calendar_day(from, there);
}

function Numbers({ side, nights, zone }: Props) {
  const ends = nights[0] ? clock(new Date(nights[0].to), zone) : "";
  return (
    <table class="numbers">
      <caption>{tell("nights.how_likely_these_cells_are_spent", { ends })}</caption>
      <thead>
        <tr>
          <th scope="col">{tell("nights.night_and_to_last_it")}</th>
          <th scope="col">{tell("nights.spent_by_then")}</th>
        </tr>
      </thead>
      <tbody>
        {nights.map((night) => (
          <tr key={night.from}>
            <th scope="row">
              <span class="named-night">
                <Window side={side} state={night.window} tonight={night.tonight ?? false} />
                <span>
                  {day_of(night, zone)}
                  <small>{window_words[night.window]}</small>
                </span>
              </span>
            </th>
            <td>{odds_words(night.risk_by_end ?? night.risk)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Windows({ side, nights, zone }: Props) {
  return (
    <span class="windows" aria-hidden="true">
      {nights.map((night) => (
        <span class={night.tonight ? "night tonight" : "night"} key={night.from}>
          <Window side={side} state={night.window} tonight={night.tonight ?? false} />
          <span class="label">{label_of(night, zone)}</span>
        </span>
      ))}
    </span>
  );
}

export function Nights(props: Props) {
  const [open, set_open] = useState(false);
  const { side, nights, zone } = props;
  const strip = nights.slice(0, shown);
  const said = strip.map((night) => `${day_of(night, zone)} ${window_words[night.window]}`).join(", ");
  const windows = useMemo(() => <Windows side={side} nights={strip} zone={zone} />, [side, zone, strip.map(({ from, tonight, window, zone: there }) => `${from} ${tonight} ${window} ${there}`).join()]);  // half of the page's elements
  return (
    <div class="nights">
      <button class="strip" type="button" aria-expanded={open} onClick={() => set_open(!open)}>
        <span class="unseen">{tell(open ? "nights.hide_numbers" : "nights.show_numbers", { side: side_name[side], said })}</span>
        {windows}
      </button>
      {open && <Numbers {...props} />}
    </div>
  );
}
