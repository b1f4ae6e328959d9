// SPDX-License-Identifier: MIT
// Charge thrown away by month: a point with how sure it is, month under month.
import { month_words } from "../common/dates";
import type { Waste } from "../lot_types";
import { range } from "./costs";

const width = 240;
const x_of = (share: number): number => 6 + Math.min(Math.max(share, 0), 0.6) * ((width - 12) / 0.6);

export function Months({ months }: { months: Waste["by_month"] }) {
  if (!months.length) return null;
  return (
    <table class="numbers">
      <caption>Charge left at the change, by month: 0 to 60 %</caption>
      <thead>
        <tr>
          <th scope="col">Month</th>
          <th scope="col">Sets</th>
          <th scope="col">Left</th>
          <th scope="col">
            <span class="unseen">Drawn</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {months.map((one) => (
          <tr key={one.month}>
            <th scope="row">{month_words(one.month)}</th>
            <td>{one.sets}</td>
            <td>{one.share ? range(one.share) : "not known"}</td>
            <td>
              {one.share && (
                <svg class="drawing month" viewBox={`0 0 ${width} 20`} aria-hidden="true">
                  <path class="hair" d={`M6 10H${width - 6}`} />
                  <path class="sure" d={`M${x_of(one.share.p05)} 5H${x_of(one.share.p95)}V15H${x_of(one.share.p05)}Z`} />
                  <circle class="seen" cx={x_of(one.share.p50)} cy="10" r="4" />
                </svg>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
