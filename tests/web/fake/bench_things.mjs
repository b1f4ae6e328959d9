// SPDX-License-Identifier: MIT
// The stand-in's invented units, lots and antennas.

const told_elsewhere = { number: null, voidable: false };
const at_home = (household, from) => ({ ...told_elsewhere, kind: "home", household, from, to: null, text: `In use in ${household}.` });

const lines = [
  { serial: "u-31", stimulator: "percent-power", place: at_home("h-0142", "2026-08-02T09:00:00Z"), homes: 2, sets: 11, faults: 1, more_percent: 9.2, low_percent: 6.1, high_percent: 12.4, draws_too_much: 0.97, measured: true, text: "Unit u-31 draws about 9 % more than its model (11 sets in 2 homes)." },
  { serial: "u-12", stimulator: "percent-power", place: { ...told_elsewhere, kind: "workshop", household: null, from: "2026-09-15T08:00:00Z", to: null, text: "In the workshop." }, homes: 2, sets: 14, faults: 2, more_percent: 1.4, low_percent: -1.6, high_percent: 4.5, draws_too_much: 0.06, measured: false, text: "Unit u-12 draws what its model says, as far as 14 sets can tell." },
  { serial: "u-44", stimulator: "stepped-linear", place: at_home("h-0311", "2026-03-01T09:00:00Z"), homes: 1, sets: 22, faults: 0, more_percent: -0.7, low_percent: -3.9, high_percent: 2.6, draws_too_much: 0.01, measured: false, text: "Unit u-44 draws what its model says, as far as 22 sets can tell." },
  { serial: "u-51", stimulator: "stepped-linear", place: { ...told_elsewhere, kind: "spare", household: "h-0098", from: "2026-10-01T09:00:00Z", to: null, text: "A spare in h-0098." }, homes: 1, sets: 0, faults: 0, more_percent: null, low_percent: null, high_percent: null, draws_too_much: null, measured: false, text: "No set was read in unit u-51 yet." },
];

export const units = (as_of, left_out) => ({ as_of, fresh: true, left_out, units: lines });

export function unit_of(serial, as_of, findings, events, left_out) {
  const line = lines.find((one) => one.serial === serial);
  if (!line) return null;
  const known = serial === "u-31";
  return {
    ...line, as_of, fresh: true, left_out,
    places: known ? [
      { ...told_elsewhere, kind: "home", household: "h-0207", from: "2026-02-10T09:00:00Z", to: "2026-07-20T09:00:00Z", text: "In use in h-0207." }, { ...told_elsewhere, kind: "workshop", household: null, from: "2026-07-20T09:00:00Z", to: "2026-08-02T09:00:00Z", text: "In the workshop." }, line.place,
    ] : [line.place],
    faults_list: [...(known ? [{ ...told_elsewhere, at: "2026-07-18T17:10:00Z", household: "h-0207", side: "right", what: "home", text: "The right cells were changed because of a fault." }] : []), ...events],
    bench_values: known ? [
      { number: 7, at: "2026-10-30T10:00:00Z", who_is: "you", side: "left", what: "burst current", amplitude: 4, expected: 70, measured: 75.6, unit: "mA", more_percent: 8, text: "" },
      { number: 7, at: "2026-10-30T10:00:00Z", who_is: "you", side: "left", what: "burst current", amplitude: 5, expected: 83, measured: 90.1, unit: "mA", more_percent: 8.6, text: "" },
      { number: 7, at: "2026-10-30T10:00:00Z", who_is: "you", side: "right", what: "burst current", amplitude: 4, expected: 70, measured: 70.9, unit: "mA", more_percent: 1.3, text: "" },
      { number: 7, at: "2026-10-30T10:00:00Z", who_is: "you", side: null, what: "gauge at 2.42 V", amplitude: null, expected: 50, measured: 47, unit: "%", more_percent: null, text: "" },
    ] : [],
    homes_list: known ? [
      { household: "h-0142", side: "left", more_percent: 10.4, low_percent: 5.2, high_percent: 15.9, sets: 6, text: "6 sets of this unit against 9 of others." }, { household: "h-0207", side: "left", more_percent: 8.1, low_percent: 3.4, high_percent: 13, sets: 5, text: "5 sets of this unit against 14 of others." },
      { household: "h-0207", side: "right", more_percent: 0.9, low_percent: -4.1, high_percent: 6.1, sets: 5, text: "5 sets of this unit against 14 of others." },
    ] : [],
    sets_list: known ? [{ household: "h-0142", side: "left", number: 15, from: "2026-11-12T19:30:00Z", to: "2026-11-23T19:30:00Z", cell_type: "lr6-family", lot: "8B", ended: "planned", more_percent: 12.6, low_percent: 8, high_percent: 17.4, text: "" }] : [],
    profile: known ? { number: 7, approved_at: "2026-11-02T09:00:00Z", text: "Its own measured values are in force since 2026-11-02." } : null, findings: findings.filter((one) => one.subject === serial),
  };
}

export const lots = (as_of, left_out) => ({
  as_of, fresh: true, left_out, lots: [
    { lot: "B7", cell_type: "lr6-family", sets: 9, households: 3, homes: ["h-0098", "h-0207", "h-0311"], more_percent: 12.6, low_percent: 9.8, high_percent: 15.5, short: 0.99, text: "Short: used up about 13 % sooner than expected." },
    { lot: "7Q", cell_type: "lr6-family", sets: 26, households: 4, homes: ["h-0098", "h-0142", "h-0207", "h-0311"], more_percent: 0.4, low_percent: -1.1, high_percent: 1.9, short: 0.002, text: "As its type." },
    { lot: "8B", cell_type: "lr6-family", sets: 2, households: 1, homes: ["h-0142"], more_percent: 1.2, low_percent: -1.9, high_percent: 4.3, short: 0.02, text: "Too few sets to say anything of this lot." },
  ],
});

export const wear = (as_of) => ({
  as_of, kinds: [{
    kind: "antenna", worn_out: 9, in_all: 17, fit: { shape: 3.1, shape_low: 1.9, shape_high: 5, scale_days: 212, scale_low_days: 171, scale_high_days: 263, median_days: 188 }, text: "9 of 17 have worn out; half last longer than 188 days.",
    due: [
      { household: "h-0142", part: "antenna", side: "left", in_use_since: "2026-06-02T09:00:00Z", days_in_use: 175, due_on: "2026-11-29", expected_on: "2027-01-12", worn_out_in_30_days: 0.34, text: "Left side. In use for 175 days. One in twenty is worn out by 2026-11-29, one in two by 2027-01-12." },
      { household: "h-0311", part: "antenna", side: "right", in_use_since: "2026-07-30T09:00:00Z", days_in_use: 117, due_on: "2026-12-20", expected_on: "2027-02-20", worn_out_in_30_days: 0.09, text: "Right side. In use for 117 days. One in twenty is worn out by 2026-12-20, one in two by 2027-02-20." },
      { household: "h-0098", part: "antenna", side: "left", in_use_since: "2026-10-11T09:00:00Z", days_in_use: 44, due_on: "2027-02-01", expected_on: "2027-04-24", worn_out_in_30_days: 0.008, text: "Left side. In use for 44 days. One in twenty is worn out by 2027-02-01, one in two by 2027-04-24." },
    ],
  }],
});
