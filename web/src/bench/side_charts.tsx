// SPDX-License-Identifier: MIT
// The three drawings of a side's history, with what each is. Whoever does not see them has the table beside them.
import { useEffect, useRef } from "preact/hooks";
import type { SideHistory } from "./api";
import { points_of } from "./side_points";

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
      <h2>Use of each set, against what its settings let expect</h2>
      <div class="drawing tall" ref={use} role="img" aria-label={`${of_side}: use seen and use expected of each set. The table has the figures.`} />
      <h2>EWMA of the surprise, in standard deviations</h2>
      <p class="small">{history.charts.ewma.text}</p>
      <div class="drawing" ref={ewma} role="img" aria-label={`${of_side}: EWMA with its limits. The table says where it went beyond.`} />
      <h2>CUSUM of the surprise, in standard deviations</h2>
      <p class="small">{history.charts.cusum.text}</p>
      <div class="drawing" ref={cusum} role="img" aria-label={`${of_side}: CUSUM with its limits. The table says where it went beyond.`} />
    </div>
  );
}
