// SPDX-License-Identifier: MIT
// The stand-in's profiles: tables are read by their form only, residuals are invented, a second person approves.

const problem = (status, code, title, more) => ({ status, body: { type: `/problems/${code}`, title, status, ...more } });
/// In the service's own words.
const effect_not_known = () => problem(409, "effect-not-known", "Whose dates this moves is not known yet", { detail: "It is still being worked out whose dates this would move. Approve it once they are shown." });

/// A figure on each line; a cut-off above the start; what a technician may get wrong.
function problems_of(body) {
  const found = [];
  const at = (place, reason, line = null, column = null) => found.push({ line, column, place, reason });
  if (body.kind === "cell") {
    if (!body.id) at("/id", "is empty");
    if (!body.source.title) at("/source/title", "is empty");
    const rows = body.table.trim() ? body.table.trim().split(/\r?\n/).map((line) => line.split("\t")) : [];
    if (rows.length < 2) at("/table", rows.length ? "There is no line below the head." : "There is no head line. It names the columns, such as current_mA, cutoff_V, hours.");
    rows.slice(1).forEach((cells, row) => cells.forEach((cell, column) => {
      if (!Number.isFinite(Number(cell.replace(",", ".")))) at(`/table:${row + 2}:${column + 1}`, `"${cell}" is no number: write ${rows[0][column]} as digits alone, without a unit.`, row + 2, column + 1);
      else if (rows[0][column] === "cutoff_V" && Number(cell.replace(",", ".")) > 1.55) at(`/table:${row + 2}:${column + 1}`, "The cut-off of 1.8 V is not below the 1.65 V at which a fresh cell starts.", row + 2, column + 1);
    }));
  }
  if (body.kind === "unit" && !body.serial) at("/serial", "is empty");
  if (body.kind === "unit" || body.kind === "stimulator") {
    if (!body.bursts.length && !body.gauge.length) at("", "nothing was measured: give bursts, gauge, or both");
    body.bursts.forEach((burst, index) => burst.current_mA < 1 && at(`/bursts/${index}/current_mA`, "0.07 mA is too little for a burst. If it was read in amperes, write 70 mA."));
  }
  if (body.kind === "steps" && !body.steps.length) at("/steps", "One step at least.");
  return found;
}

const residuals_of = (body) => (body.kind === "cell"
  ? body.table.trim().split(/\r?\n/).slice(1).map((line, index) => {
    const [load, cutoff, hours] = line.split("\t").map((one) => Number(one.replace(",", ".")));
    const error_percent = [-1.2, 0.4, 2.6, -0.8, 1.1][index % 5];
    return { line: index + 2, what: `${load} mA to ${cutoff} V`, published: hours, fitted: hours * (1 + error_percent / 100), error_percent, text: "" };
  })
  : (body.bursts ?? []).map((one, index) => ({ line: null, what: `${one.side} at amplitude ${one.amplitude}`, published: one.current_mA, fitted: one.current_mA * (1 + (index % 2 ? -0.006 : 0.004)), error_percent: index % 2 ? -0.6 : 0.4, text: "" })));

const fit = { usable: true, reasons: [], range_text: "Loads from 25 to 500 mA and cut-offs from 0.8 to 1.1 V are within what was published.", mean_error_percent: 1.2, parameters: [{ name: "Charge", value: 2.61, standard_error: 0.05, unit: "Ah" }, { name: "Fast resistance", value: 0.17, standard_error: 0.03, unit: "ohm" }] };

const moves = [
  { household: "h-0142", side: "left", change_by_before: "2026-11-29T20:30:00Z", change_by_after: "2026-11-28T20:30:00Z", later: false, text: "h-0142, left: change by 2026-11-28 instead of 2026-11-29." },
  { household: "h-0311", side: "right", change_by_before: "2026-11-30T20:30:00Z", change_by_after: "2026-12-01T20:30:00Z", later: true, text: "h-0311, right: change by 2026-12-01 instead of 2026-11-30. It stays as it is until these cells are changed." },
];

export class FakeProfiles {
  constructor(clock) {
    this.clock = clock;
    this.proposals = [{
      number: 9, kind: "cell", subject: "lr6-sample", state: "waiting", version: null, proposed_at: "2026-11-23T14:00:00Z", proposed_by_you: false, proposer: "Second bench", may_decide: true, decided_at: null, decider: null, reason: null,
      body: { kind: "cell", id: "lr6-sample", designation: "LR6", nominal_V: 1.5, source: { title: "An invented sheet", basis: "data sheet" }, table: "current_mA\tcutoff_V\thours\n25\t0.9\t104\n100\t0.9\t23.2\n250\t0.9\t7.6\n500\t0.9\t2.9" }, residuals: residuals_of({ kind: "cell", table: "current_mA\tcutoff_V\thours\n25\t0.9\t104\n100\t0.9\t23.2\n250\t0.9\t7.6\n500\t0.9\t2.9" }), fit,
      text: "The cell lr6-sample from 4 published figures. Proposed by Second bench on 23 November.", effect: { state: "done", looked_at: 4, of: 4, moves, text: "2 of 8 sides would move: 1 earlier, 1 later. The later one keeps its date until its next change." },
    }];
    this.number = 20;
  }

  versions() {
    const told = this.proposals.filter((one) => one.state === "approved").map((one) => ({ kind: one.kind, subject: one.subject, version: one.version, number: one.number, approved_at: one.decided_at, proposer: one.proposer, decider: one.decider, text: one.text, in_force: true }));
    return [...told, { kind: "unit", subject: "u-31", version: 1, number: 7, approved_at: "2026-11-02T09:00:00Z", proposer: "Workshop", decider: "Second bench", text: "", in_force: true }];
  }

  read(body) {
    const problems = problems_of(body);
    const usable = problems.length === 0;
    const text = usable ? (body.kind === "steps" ? `${body.steps.length} steps were read.` : `${residuals_of(body).length} figures were read.`) : "Nothing is kept until these are mended.";
    return { problems, usable, fit: usable && body.kind === "cell" ? fit : null, residuals: usable ? residuals_of(body) : [], text };
  }

  propose(body) {
    const problems = problems_of(body);
    if (problems.length) return problem(422, "out-of-range", "Something is to be mended first.", { errors: problems });
    const subject = body.id ?? body.serial ?? body.stimulator;
    const proposal = { number: ++this.number, kind: body.kind, subject, state: "waiting", version: null, proposed_at: this.clock().toISOString(), proposed_by_you: true, proposer: "you", may_decide: false, decided_at: null, decider: null, reason: null, body, residuals: residuals_of(body), fit: body.kind === "cell" ? fit : null, text: `${subject}, proposed by you today.`, effect: { state: "done", looked_at: 4, of: 4, moves: [moves[0]], text: "1 of 8 sides would move, to an earlier date." } };
    this.proposals.unshift(proposal);
    return { status: 201, body: proposal };
  }

  decide(proposal, body) {
    if (body.approve && proposal.proposed_by_you) return problem(403, "own-proposal", "A second person approves what you proposed.");
    if (body.approve && proposal.state === "waiting" && proposal.effect?.state === "computing") return effect_not_known();
    if (proposal.state !== "waiting") return problem(409, "outdated", "It was decided already.");
    Object.assign(proposal, { state: body.approve ? "approved" : "refused", version: body.approve ? 1 : null, decided_at: this.clock().toISOString(), decider: "you", reason: body.reason ?? null });
    return { status: 200, body: proposal };
  }

  answer(method, path, body) {
    if (method === "POST" && path === "/profiles/read") return { status: 200, body: this.read(body) };
    if (method === "POST" && path === "/profile-proposals") return this.propose(body);
    if (path === "/profile-proposals") return { status: 200, body: { proposals: this.proposals.map(({ body: _, fit: __, residuals: ___, effect: ____, ...line }) => line) } };
    if (path === "/profile-versions") return { status: 200, body: { versions: this.versions() } };
    const [, number, decision] = /^\/profile-proposals\/(\d+)(\/decision)?$/.exec(path) ?? [];
    if (!number) return null;
    const proposal = this.proposals.find((one) => one.number === Number(number));
    if (!proposal) return problem(404, "unknown-profile", "There is no such profile");
    return decision ? this.decide(proposal, body) : { status: 200, body: proposal };
  }
}
