// SPDX-License-Identifier: MIT
// "No deliveries for a while": until which day, and how far the stock reaches.
import { useState } from "preact/hooks";
import { Input } from "../parts/fields";
import { Screen } from "../parts/screen";
import { is_old } from "../state/side_view";
import { tell } from "../words/catalogue/plan";
import { days_until, reach } from "./no_deliveries_model";
import type { FormProps } from "./use_form";

export function NoDeliveriesForm({ desk, done }: FormProps) {
  const [until, set_until] = useState("");
  const { forecast, now } = desk.value;
  const days = days_until(until, now);
  const known = forecast && !is_old(forecast, now) ? forecast : null;
  return (
    <Screen title={tell("no_deliveries.title")} back={done}>
      <p class="told">{tell("no_deliveries.what")}</p>
      <Input name="until" legend={tell("no_deliveries.until")} type="date" value={until} onChange={set_until} error={until && days === null ? tell("no_deliveries.choose_a_day") : undefined} />
      <div role="status">
        {days !== null && !known && <p>{tell("no_deliveries.no_forecast")}</p>}
        {days !== null && known && (
          <section class="card" aria-labelledby="reach-name">
            <h2 id="reach-name">{tell("no_deliveries.for_days", { count: days })}</h2>
            <ul>
              {reach(known, days, until).map((words) => <li key={words}>{words}</li>)}
            </ul>
            <p class="small">{tell("no_deliveries.as_recorded")}</p>
          </section>
        )}
      </div>
    </Screen>
  );
}
