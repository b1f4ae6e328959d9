// SPDX-License-Identifier: MIT
// A delivery at the real service, as a planner makes one: a round to the household's area, planned, confirmed, loaded, left.

const day = (ahead) => new Date(Date.now() + ahead * 86_400_000).toISOString().slice(0, 10);
const in_days = [2, 9, 16, 23].map(day);

/// `ask(method, path, body)` speaks to the service as an administrator.
export async function bring(ask, household, area) {
  await ask("POST", `/households/${household}/stock-counts`, { at: new Date(Date.now() - 60_000).toISOString().replace(/\.\d+/, ""), item: "tape", quantity: 3, place: "home" });
  await ask("POST", "/agency-stock", { what: "received", item: "tape", lot: "T1", packs: 40, expires: "2033-05" });
  const { number, rules, items } = await ask("GET", "/calendar");
  const told = rules.map(({ name, area: of, dates, stops, lead_days }) => ({ name, area: of, dates, stops, lead_days }));
  await ask("POST", "/calendar", { follows: number, zone: "UTC", rules: [...told, { name: area, area, dates: in_days, stops: 10, lead_days: 1 }], items: items.length ? items : [{ item: "tape", pieces_per_pack: 5 }] });
  const { plan, rounds } = await ask("GET", "/plan");
  const { round } = rounds.find(({ stops }) => stops.some(({ lines }) => lines.some((line) => line.household === household)));
  await ask("POST", "/plan/confirm", { plan, rounds: [round] });
  for (const state of ["loaded", "left"]) {
    const { number: follows } = await ask("GET", `/rounds/${encodeURIComponent(round)}`);
    await ask("POST", `/rounds/${encodeURIComponent(round)}/state`, { state, follows });
  }
}
