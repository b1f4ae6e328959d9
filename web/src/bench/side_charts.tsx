// SPDX-License-Identifier: MIT
// The three drawings of a side's history, with what each is. Whoever does not see them has the table beside them.
import { useEffect, useRef } from "preact/hooks";
import type { SideHistory } from "./api";
import { points_of } from "./side_points";
import { tell } from "../words/catalogue/bench";

export function SideCharts({ history }: { history: SideHistory }) {
  const use = useRef<HTMLDivElement>(null);
  const ewma = useRef<HTMLDivElement>(null);
  const cusum = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let wanted = true;
    let remove = (): void => undefined;
    void import("./draw_side").then(({ draw_side }) => {
      if (wanted && use.current && ewma.current && cusum.current) remove = draw_side([use.current, ewma.current, cusum.current], points_of(history), history.zone);
    });
    return () => {
      wanted = false;
      remove();
    };
  }, [history]);
  const of_side = `${history.household}, ${history.side}`;
  return (
    <div class="side-charts">
      <h2>{tell("bench.use_of_each_set_against_what")}</h2>
      <div class="drawing tall" ref={use} role="img" aria-label={tell("bench.use_seen_and_use_expected_of", { of_side })} />
      <h2>{tell("bench.ewma_of_the_surprise_in_standard")}</h2>
      <p class="small">{history.charts.ewma.text}</p>
      <div class="drawing" ref={ewma} role="img" aria-label={tell("bench.ewma_with_its_limits_the_table", { of_side })} />
      <h2>{tell("bench.cusum_of_the_surprise_in_standard")}</h2>
      <p class="small">{history.charts.cusum.text}</p>
      <div class="drawing" ref={cusum} role="img" aria-label={tell("bench.cusum_with_its_limits_the_table", { of_side })} />
    </div>
  );
}
