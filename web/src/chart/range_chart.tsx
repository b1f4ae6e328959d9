// SPDX-License-Identifier: MIT
// The range chart of one side: asks the service for its points and hands them to the drawing, which comes in a
// file of its own. Whoever does not see the drawing has the same figures in a table.
import { useEffect, useRef, useState } from "preact/hooks";
import { get, household_path } from "../api/client";
import type { Chart, Side } from "../api/types";
import { moment_words } from "../words/moments";
import { side_name } from "../words/names";
import { tell } from "../words/catalogue/first";

interface Props {
  household: string;
  side: Side;
  zone: string;
  now: Date;
  as_of: string;
}

const rows_at_most = 12;

function some_of<T>(points: T[]): T[] {
  const step = Math.max(1, Math.ceil(points.length / rows_at_most));
  return points.filter((_, index) => index % step === 0);
}

function Table({ chart, zone, now }: { chart: Chart; zone: string; now: Date }) {
  const say = (at: string): string => moment_words(new Date(at), now, zone);
  const percent = (value: number): string => `${Math.round(value)} %`;
  return (
    <details>
      <summary>{tell("range_chart.the_same_as_a_table")}</summary>
      <table class="numbers">
        <caption>{tell("range_chart.what_the_gauge_is_expected_to", { side: side_name[chart.side] })}</caption>
        <thead>
          <tr>
            <th scope="col">{tell("range_chart.when")}</th>
            <th scope="col">{tell("range_chart.expected")}</th>
            <th scope="col">{tell("range_chart.between")}</th>
          </tr>
        </thead>
        <tbody>
          {some_of(chart.points).map((point) => (
            <tr key={point.at}>
              <th scope="row">{say(point.at)}</th>
              <td>{percent(point.p50)}</td>
              <td>{tell("range_chart.and", { from: percent(point.p05), to: percent(point.p95) })}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <ul>
        {chart.readings.map((reading) => <li key={reading.at}>{`${say(reading.at)}: ${reading.text}`}</li>)}
      </ul>
    </details>
  );
}

function Drawing({ chart, zone, now }: { chart: Chart; zone: string; now: Date }) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let wanted = true;
    let remove = (): void => undefined;
    void import("./draw").then(({ draw_range }) => {
      if (wanted && place.current) remove = draw_range(place.current, chart, zone, now);
    });
    return () => {
      wanted = false;
      remove();
    };
  }, [chart]);
  return <div class="chart" ref={place} role="img" aria-label={tell("range_chart.range_of_the_gauge_over_time", { side: side_name[chart.side] })} />;
}

export function RangeChart({ household, side, zone, now, as_of }: Props) {
  const [chart, set_chart] = useState<Chart | null>(null);
  const [failed, set_failed] = useState("");
  useEffect(() => {
    void get<Chart>(`${household_path(household)}/chart?side=${side}`).then((answer) => {
      if ("got" in answer) set_chart(answer.got);
      else set_failed("problem" in answer ? answer.problem.title : tell("range_chart.no_signal_the_chart_cannot_be"));
    });
  }, [household, side, as_of]);
  if (!chart) return <p role="status">{failed || tell("range_chart.asking_for_the_chart")}</p>;
  if (!chart.points.length && !chart.readings.length) return <p>{tell("range_chart.nothing_to_draw_yet")}</p>;
  return (
    <>
      <Drawing chart={chart} zone={zone} now={now} />
      <Table chart={chart} zone={zone} now={now} />
    </>
  );
}
