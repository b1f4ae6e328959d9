// SPDX-License-Identifier: MIT
// What the service read in a proposal: how far each published or measured figure lies from the fitted one.
import type { Fit, Residual } from "./api_profiles";
import { Span } from "./span";
import { signed } from "./words";
import { tell } from "../words/catalogue/bench";

const figure = (value: number): string => String(Math.abs(value) >= 100 ? Math.round(value) : Math.round(value * 100) / 100);

export function Residuals({ residuals }: { residuals: readonly Residual[] }) {
  if (!residuals.length) return null;
  const reach = Math.max(5, ...residuals.map((one) => Math.ceil(Math.abs(one.error_percent))));
  const lines = residuals.some((one) => one.line !== null);
  return (
    <div class="table-scroll" role="region" aria-label={tell("bench.residuals")} tabIndex={0}>
      <table class="ledger residuals">
        <caption>{tell("bench.each_figure_what_the_fit_makes")}</caption>
        <thead>
          <tr>
            {lines && <th scope="col">{tell("bench.line_head")}</th>}
            <th scope="col">{tell("bench.what")}</th>
            <th scope="col" class="figure">
              {tell("bench.given")}
            </th>
            <th scope="col" class="figure">
              {tell("bench.fitted")}
            </th>
            <th scope="col">{tell("bench.off_by")}</th>
          </tr>
        </thead>
        <tbody>
          {residuals.map((one, index) => (
            <tr key={`${one.line ?? ""}/${one.what}/${index}`}>
              {lines && <td>{one.line ?? ""}</td>}
              <th scope="row">{one.what}</th>
              <td class="figure">{figure(one.published ?? one.measured ?? NaN)}</td>
              <td class="figure">{figure(one.fitted)}</td>
              <td>
                <Span low={Math.min(0, one.error_percent)} best={one.error_percent} high={Math.max(0, one.error_percent)} from={-reach} to={reach} />
                {signed(one.error_percent)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

export function FitTold({ fit }: { fit: Fit }) {
  const off = fit.mean_error_percent === null ? null : signed(fit.mean_error_percent).replace(/^\+/, "");
  return (
    <>
      <p class="lead">{!fit.usable ? tell("bench.the_fit_is_not_usable") : off === null ? tell("bench.the_fit_is_usable") : tell("bench.the_fit_is_usable_off_on", { off })}</p>
      {fit.reasons.length > 0 && <ul class="text">{fit.reasons.map((one) => <li key={one}>{one}</li>)}</ul>}
      <p class="small">{fit.range_text}</p>
      <details>
        <summary>{tell("bench.its_parameters")}</summary>
        <div class="table-scroll" role="region" aria-label={tell("bench.parameters_of_the_fit")} tabIndex={0}>
        <table class="ledger">
          <thead>
            <tr>
              <th scope="col">{tell("bench.parameter")}</th>
              <th scope="col" class="figure">
                {tell("bench.value")}
              </th>
              <th scope="col" class="figure">
                {tell("bench.standard_error")}
              </th>
            </tr>
          </thead>
          <tbody>
            {fit.parameters.map((one) => (
              <tr key={one.name}>
                <th scope="row">{one.name}</th>
                <td class="figure">{`${one.value.toPrecision(4)} ${one.unit}`}</td>
                <td class="figure">{one.standard_error === null ? "" : one.standard_error.toPrecision(2)}</td>
              </tr>
            ))}
          </tbody>
        </table>
        </div>
      </details>
    </>
  );
}
