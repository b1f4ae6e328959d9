// SPDX-License-Identifier: MIT
// The stand-in's invented findings, of every state.

const cause_words = {
  settings: "the settings on the unit are not those of the record", cells: "the cells hold less than their type does", unit: "the unit draws another current than its model",
  habit: "the hours paced are not those of the record", gauge: "the gauge shows what the cells do not bear out",
  timing: "the home changes its cells sooner than it needs to",
};

const probability_text = (p) => `${Math.round(100 * p)} in 100`;

const causes = (of, other_words = {}) => Object.entries(of).map(([cause, probability]) => ({ cause, words: other_words[cause] ?? cause_words[cause], probability, probability_text: probability_text(probability) })).sort((a, b) => b.probability - a.probability);

const base = { household: null, subject: null, from: null, ended_at: null, causes: [], named: null, evidence: [], homes: [], next: [], state: "open", reopens: null, history: [], newest: 0, borne_out: true };

const of_step = {
  ...base, id: "use/h-0142/left/2026-11-19T20:31:00Z", kind: "step", title: "The left side uses more since one set", household: "h-0142", scope: "left", raised_at: "2026-11-19T20:31:00Z", from: "2026-10-08T19:30:00Z",
  more_percent: 13.1, low_percent: 7.4, high_percent: 19.2, probability: 0.93,
  causes: causes({ settings: 0.46, unit: 0.38, cells: 0.09, gauge: 0.05, habit: 0.02 }),
  verdict: "Cannot tell yet: what is set on the unit and the unit itself explain it about equally well.",
  evidence: [
    "4 sets since 8 October 2026 used 13 % more than expected; the 11 before used 1 % more.", "The right side of the same home used as expected all the while.",
    "The sets were of two lots, so one lot alone does not explain it.", "The unit was the same before and after.",
  ],
  next: [
    { step: "read_settings", words: "Read the settings off the unit and hold them against the record.", bits: 0.71 }, { step: "measure_unit", words: "Measure the unit's current on the bench.", bits: 0.58 },
    { step: "swap_units", words: "Put the next sets of this side into another unit.", bits: 0.31 },
  ],
  text: "h-0142, left: uses about 13 % more since 8 October 2026. Cannot tell why yet.",
};

const of_unit = {
  ...base, id: "unit/u-31/2026-11-12T20:30:00Z", kind: "unit_eats_cells", title: "Unit u-31 draws more than its model", subject: "u-31", scope: "both", raised_at: "2026-11-12T20:30:00Z", from: "2026-08-02T09:00:00Z",
  more_percent: 9.2, low_percent: 6.1, high_percent: 12.4, probability: 0.97, homes: ["h-0142", "h-0207"], named: "unit",
  causes: causes({ unit: 0.91, settings: 0.04, cells: 0.03, habit: 0.01, gauge: 0.01 }), verdict: "The unit draws more than its model.",
  evidence: ["In h-0207 it used 8 % more than the other units of that home and side (5 sets against 14).", "In h-0142 it used 10 % more (6 sets against 9).", "Measured on the bench on 30 October 2026: 8 % over its model on the left."],
  state: "taken_on", newest: 41,
  history: [
    { state: "seen", at: "2026-11-13T08:02:00Z", who: "another", reason: null, note: null, text: "Seen by Second bench." },
    { state: "taken_on", at: "2026-11-16T09:40:00Z", who: "you", reason: null, note: "Comes to the workshop with the next round.", text: "Taken on by Workshop. Comes to the workshop with the next round." },
  ],
  text: "Unit u-31 draws about 9 % more than its model, in two homes.",
};

const of_lot = {
  ...base, id: "lot/B7/2026-11-21T20:30:00Z", kind: "bad_lot", title: "Lot B7 holds less than its type", subject: "B7", scope: "both", raised_at: "2026-11-21T20:30:00Z", from: "2026-10-19T19:30:00Z",
  more_percent: 12.6, low_percent: 9.8, high_percent: 15.5, probability: 0.99, homes: ["h-0098", "h-0207", "h-0311"], named: "cells",
  causes: causes({ cells: 0.97, unit: 0.01, settings: 0.01, habit: 0.005, gauge: 0.005 }), verdict: "The cells of lot B7 hold less than their type does.",
  evidence: ["9 sets of lot B7 in 3 homes were used up 13 % sooner than expected.", "Other lots in the same homes and sides lasted as expected."], text: "Lot B7: used up about 13 % sooner, in 3 homes.",
};

const of_early = {
  ...base, id: "early/h-0311/2026-11-02T20:30:00Z", kind: "changes_too_early", title: "Changes come long before they need to", household: "h-0311", scope: "both", raised_at: "2026-11-02T20:30:00Z",
  more_percent: null, low_percent: null, high_percent: null, probability: 0.995,
  causes: causes({ timing: 0.58, settings: 0.16, unit: 0.11, habit: 0.1, gauge: 0.03, cells: 0.02 }, { cells: "the cells hold more than their type does" }), verdict: "Cannot tell the cause yet. Ask the home what makes it change when it does.",
  evidence: ["The newest 12 planned changes came when 52 % of the charge was used on average.", "That this is below 60 %: more than 99 in 100."],
  next: [{ step: "ask_home", words: "Ask the home what makes it change when it does.", bits: 0.66 }, { step: "read_settings", words: "Read the settings off the unit and hold them against the record.", bits: 0.41 }], state: "seen", newest: 12,
  history: [{ state: "seen", at: "2026-11-03T10:00:00Z", who: "you", reason: null, note: null, text: "Seen by Workshop." }], text: "h-0311: changes come with about half the charge left.",
};

const of_gauge = {
  ...base, id: "use/h-0098/right/2026-07-02T20:30:00Z", kind: "gauge_disagrees", title: "The gauge of u-12 disagrees with the cells", household: "h-0098", subject: "u-12", scope: "right", raised_at: "2026-07-02T20:30:00Z", from: "2026-05-11T09:00:00Z",
  ended_at: "2026-09-14T20:30:00Z", more_percent: 7.8, low_percent: 3.1, high_percent: 12.7, probability: 0.88, named: "gauge", causes: causes({ gauge: 0.86, unit: 0.07, settings: 0.04, cells: 0.02, habit: 0.01 }),
  verdict: "The gauge shows less than there is: no more is used at all.", evidence: ["5 sets read by the gauge seemed to use 8 % more; 2 read by a voltmeter did not."], state: "closed", newest: 33,
  history: [{ state: "closed", at: "2026-09-20T12:15:00Z", who: "another", reason: "cause_removed", note: "Gauge board replaced.", text: "Closed by Second bench: what caused it was seen to. Gauge board replaced." }], text: "h-0098, right: the gauge of u-12 shows less than there is.",
};

export const new_findings = () => structuredClone([of_lot, of_step, of_unit, of_early, of_gauge]).map((one) => ({ ...one, probability_text: probability_text(one.probability) }));

export function findings(all, as_of, state, left_out) {
  const counts = Object.fromEntries(["open", "seen", "taken_on", "closed"].map((one) => [one, all.filter((finding) => finding.state === one).length]));
  const wanted = state === "all" ? all : all.filter((one) => (state === "closed" ? one.state === "closed" : one.state !== "closed"));
  return { as_of, fresh: true, waiting: 0, counts, findings: wanted, left_out };
}
