// SPDX-License-Identifier: MIT
// What an invented household and its agency told each other, as the service answers it: messages and whether they were seen,
// deliveries and what came of them. `deliveries` of its scene are planned on rounds of the agency.
import { at_home, clock_at_home, day_of_date } from "./times.mjs";

const wrong = (place, reason, code = "out-of-range") => ({ status: 422, body: { type: `/problems/${code}`, title: "A field is outside its range", status: 422, errors: [{ place, code, reason }] } });

const date_ahead = (now, days) => at_home(now, days, 12, 0).toISOString().slice(0, 10);

/// What is planned: a round to the north, its cells of two lots, and tape whose lot nobody noted.
export function planned(now, days, state, name = "north") {
  const date = date_ahead(now, days);
  const lots = [{ lot: "9C", packs: 2, expires: "2033-05" }, { lot: "9D", packs: 1, expires: null }];
  return { round: `${name} ${date}`, date, state, lines: [{ item: "cells", packs: 3, pieces: 24, lots }, { item: "tape", packs: 1, pieces: 5, lots: [{ lot: null, packs: 1, expires: null }] }] };
}

const expecting = {
  left: "calm", right: "calm",
  deliveries: (now) => [planned(now, 8, "planned"), planned(now, 0, "left"), planned(now, -3, "no_answer")],
  recorded: (now) => [
    ["message", { about: "unit_trouble", at: at_home(now, -1, 20, 5).toISOString(), note: "u-2, lid" }],
    ["message_seen", { entry: 1, at: at_home(now, 0, 9, 12).toISOString() }],
    ["message", { about: "running_short", at: at_home(now, 0, 8, 40).toISOString() }],
  ],
};
export const correspondence_scenes = {
  expecting,
  bringing: { left: "calm", right: "calm", deliveries: (now) => [planned(now, 0, "left")] },
  ended: { left: "calm", right: "calm", closed_at: (now) => at_home(now, -1, 14, 0).toISOString() },
  short: { left: "calm", right: "due", recorded: (now) => [["message", { about: "running_short", at: at_home(now, 0, 8, 40).toISOString() }]] },
  seen: { left: "calm", right: "calm", recorded: (now) => [["message", { about: "running_short", at: at_home(now, 0, 8, 40).toISOString() }], ["message_seen", { entry: 1, at: at_home(now, 0, 9, 12).toISOString() }]] },
};

const about_words = { running_short: "Running short", unit_trouble: "Unit trouble" };

export function correspondence_text(kind, body) {
  if (kind === "message") return `${about_words[body.about]}: told the agency.`;
  if (kind === "message_seen") return `The agency has seen entry ${body.entry}.`;
  if (kind === "delivery_answer") return `The delivery of ${body.round} ${body.answer === "received" ? "was received" : "did not come"}.`;
  return null;
}

const text_of = {
  planned: (day) => `A delivery is planned for ${day}.`,
  left: () => "A delivery is on its way. Say here when it has come: only then does it count as stock.",
  no_answer: (day) => `A delivery was to come on ${day}. Has it come? Until somebody says so it does not count as stock.`,
  received: (day) => `The delivery of ${day} was received.`,
  not_received: (day) => `The delivery of ${day} did not come.`,
};

function deliveries_of(household) {
  const plans = household.scene.deliveries?.(household.begun) ?? [];
  return plans.map((plan) => {
    const answer = household.standing().filter(({ kind, body }) => kind === "delivery_answer" && body.round === plan.round).at(-1);
    const state = answer?.body.answer ?? plan.state;
    return { ...plan, state, text: text_of[state](day_of_date(plan.date)) };
  });
}

export function correspondence_of(household) {
  const standing = household.standing();
  const messages = standing.filter(({ kind }) => kind === "message").reverse().map(({ id, at, body }) => {
    const seen_at = standing.find((one) => one.kind === "message_seen" && one.body.entry === id)?.at ?? null;
    const about = about_words[body.about];
    return { entry: id, about: body.about, at, note: body.note ?? null, seen_at, text: seen_at ? `${about}: seen by the agency at ${clock_at_home(new Date(seen_at))}.` : `${about}: not seen by the agency yet. Call.` };
  });
  return { messages, deliveries: deliveries_of(household), closed_at: household.closed_at() };
}

function send_message(household, body) {
  if (!(body.about in about_words)) return wrong("/about", "expected running_short or unit_trouble");
  if (body.note === "") return wrong("/note", "is empty");
  if (Buffer.byteLength(body.note ?? "") > 500) return wrong("/note", "is longer than 500 bytes", "too-long");
  const { confirmed: _confirmed, ...told } = body;
  const entry = household.record("message", told);
  return { status: 201, body: { ...correspondence_of(household), entry: entry.id } };
}

const as_planned = ({ lines }) => lines.flatMap(({ item, packs, pieces, lots }) => lots.map((lot) => ({ item, pieces: (lot.packs * pieces) / packs, ...(lot.lot && { lot: lot.lot }), ...(lot.expires && { expires: lot.expires }) })));

function answer_delivery(household, { round, answer, lines }) {
  const delivery = deliveries_of(household).find((one) => one.round === round);
  if (!delivery) return wrong("/round", "name a round on which this household has a delivery");
  if (delivery.state === "received" && answer === "not_received") return wrong("/answer", "it was received");
  const booked = [];
  if (delivery.state !== answer) {
    const came = answer === "received" ? (lines ?? as_planned(delivery)).filter((line) => line.pieces > 0) : [];
    for (const { item, pieces: quantity, lot, expires } of came) booked.push(household.record("delivery", { item, quantity, place: "home", round, ...(lot && { lot }), ...(expires && { expires }) }).id);
    household.record("delivery_answer", { round, answer });
  }
  return { status: 201, body: { entry: household.entries.at(-1).id, booked, delivery: deliveries_of(household).find((one) => one.round === round) } };
}

/// What stock the answer of an entry made goes with it.
export function booked_with({ entries }, id) {
  const answer = entries.find((one) => one.id === id);
  if (answer?.kind !== "delivery_answer") return [];
  return entries.filter(({ kind, body, voided_by }) => kind === "delivery" && body.round === answer.body.round && !voided_by);
}

const writes = { messages: send_message, "delivery-answers": answer_delivery };

/// As the agency says it at its desk.
function seen(household, number) {
  const entry = household.record("message_seen", { entry: number });
  return { status: 201, body: { entry: entry.id, seen_at: entry.at } };
}

/// Null: the route is another's.
export function answer_correspondence(household, method, path, body, key) {
  if (method === "GET" && path === "messages") return { status: 200, body: correspondence_of(household) };
  const [, seen_entry] = /^messages\/(\d+)\/seen$/.exec(path) ?? [];
  if (method === "POST" && seen_entry) return seen(household, Number(seen_entry));
  const write = method === "POST" ? writes[path] : undefined;
  if (!write) return null;
  const answer = household.answers.get(key) ?? write(household, body);
  if (answer.status === 201) household.answers.set(key, answer);
  return answer;
}
