// SPDX-License-Identifier: MIT
// A round on paper, for a driver without a signal: what to load, then a box for every line of every stop. References and
// the agency's own codes only; never a name or an address.
import { clock_of, date_words, month_words } from "../common/dates";
import { count_of, of_item } from "../common/words";
import type { LotPacks, Round } from "../round_types";

function lots(of: readonly LotPacks[]): string {
  return of.filter((one) => one.lot).map((one) => `${one.packs} × ${one.lot}${one.recalled ? " (recalled: do not leave it)" : ""}`).join(", ");
}

export function PrintedRound({ round }: { round: Round }) {
  return (
    <section class="printed paper-round" aria-hidden="true">
      <h2>{`${date_words(round.date, round.date)} ${round.date.slice(0, 4)}: ${round.round.replace(` ${round.date}`, "")}, area ${round.area}`}</h2>
      <p>{`${count_of(round.stops.length, "stop")}. State when printed: number ${round.number}${round.as_of ? `, recalls as known on ${date_words(round.as_of.slice(0, 10), round.date)} ${clock_of(round.as_of)}` : ""}. Left at: ________  Back at: ________`}</p>
      <h3>To load</h3>
      <table class="on-paper">
        <thead>
          <tr>
            <th>Loaded</th>
            <th>Item</th>
            <th>Lot</th>
            <th>Packs</th>
            <th>Pieces</th>
            <th>Expires</th>
          </tr>
        </thead>
        <tbody>
          {round.picking.map((one) => (
            <tr key={one.item + one.lot}>
              <td class="box">{one.recalled ? <b>Do not load</b> : ""}</td>
              <td>{one.item}</td>
              <td>{one.recalled ? <b>{`${one.lot}: recalled`}</b> : one.lot}</td>
              <td>{one.packs}</td>
              <td>{of_item(one.pieces, one.item)}</td>
              <td>{one.expires ? month_words(one.expires) : ""}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <h3>Stops, in the order you choose</h3>
      <table class="on-paper">
        <thead>
          <tr>
            <th>Left there</th>
            <th>Stop</th>
            <th>Household</th>
            <th>Item</th>
            <th>Packs</th>
            <th>Lots</th>
            <th>Counted there</th>
          </tr>
        </thead>
        {round.stops.map((stop) => (
          <tbody key={stop.stop}>
            {stop.lines.map((one, index) => (
              <tr key={one.household + one.item}>
                <td class="box" />
                <td>{index === 0 ? <b>{stop.stop}</b> : ""}</td>
                <td>{one.household}</td>
                <td>{one.item}</td>
                <td>{one.packs}</td>
                <td>{lots(one.lots)}</td>
                <td class="to-write" />
              </tr>
            ))}
          </tbody>
        ))}
      </table>
      <p>Nobody there: take it back, and tell the agency the same day. Only what a home has received counts as its stock.</p>
      <p>Cells of one lot stay together: a set is never of two lots.</p>
    </section>
  );
}
