// SPDX-License-Identifier: MIT
// The stand-in's bench: an invented workshop with four homes, three units and a lot that is short. Sentences are of the
// agreed form; nothing is computed but the two charts of the invented sets.
import { findings, new_findings } from "./bench_findings.mjs";
import { history, history_csv } from "./bench_history.mjs";
import { FakeProfiles } from "./bench_profiles.mjs";
import { lots, unit_of, units, wear } from "./bench_things.mjs";

const problem = (status, code, title, errors) => ({ status, body: { type: `/problems/${code}`, title, status, ...(errors && { errors }) } });
const created = (body) => ({ status: 201, body });
const shown = (body) => ({ status: 200, body });

export class FakeBench {
  constructor(clock) {
    this.clock = clock;
    this.findings = new_findings();
    this.profiles = new FakeProfiles(clock);
    this.events = [];
    this.checks = [];
    this.parts = [];
    this.quiet = false;
    this.begun = false; // true: the first review since a start is being made
    this.left_out = []; // homes whose records cannot be read
    this.number = 100;
  }

  list(state) {
    const as_of = this.clock().toISOString();
    if (this.begun) return { as_of: null, fresh: false, waiting: 301, counts: { open: 0, seen: 0, taken_on: 0, closed: 0 }, findings: [], left_out: [] };
    if (this.quiet) return { as_of, fresh: true, waiting: 0, counts: { open: 0, seen: 0, taken_on: 0, closed: 0 }, findings: [], left_out: [] };
    return findings(this.findings, as_of, state, this.left_out);
  }

  state(body) {
    const finding = this.findings.find((one) => one.id === body.finding);
    if (!finding) return problem(404, "unknown-finding", "There is no such finding.");
    if (finding.newest !== body.follows) return problem(409, "outdated", "Somebody else was quicker. Read it again.");
    if (body.state === "closed" && !body.reason) return problem(422, "missing", "A reason is needed.", [{ place: "/reason", code: "missing", reason: "Say why it is closed." }]);
    const words = { open: "Set back to open", seen: "Seen", taken_on: "Taken on", closed: "Closed" };
    finding.state = body.state;
    finding.newest = ++this.number;
    finding.history.push({ state: body.state, at: this.clock().toISOString(), who: "you", reason: body.reason ?? null, note: body.note ?? null, text: `${words[body.state]} by Workshop${body.reason ? ": looked at, and nothing found" : ""}.${body.note ? ` ${body.note}` : ""}` });
    return created(finding);
  }

  household(method, household, rest, body) {
    if (method === "POST" && rest === "checks") {
      const hours = body.hours_per_day;
      const why = hours > 24 ? `${hours} is outside 0 to 24` : hours === 0 ? "is 0: give the hours paced a day, more than 0 and up to 24" : "";
      if (why) return problem(422, "out-of-range", "A field is outside its range", [{ place: "/hours_per_day", code: "out-of-range", reason: why }]);
      this.checks.push({ entry: ++this.number, household, at: body.at, what: body.what, more_percent: 3, unit: null, text: `${body.what === "settings_read" ? "Settings read off the unit" : "Hours noted"}: 3.0 % more against the record.` });
      return created({ entry: { id: this.number, kind: "check", at: body.at, recorded_at: body.at, text: "A check" }, questions: [] });
    }
    if (method === "POST" && rest === "parts") {
      this.parts.push({ id: ++this.number, household, ...body });
      return created({ entry: { id: this.number, kind: "part", at: body.at, recorded_at: body.at, text: "A new part" }, questions: [] });
    }
    if (method === "POST" && rest === "voids" && [...this.checks, ...this.parts].some((one) => (one.entry ?? one.id) === body.entry)) {
      this.checks = this.checks.filter((one) => one.entry !== body.entry);
      this.parts = this.parts.filter((one) => one.id !== body.entry);
      return created({ entry: { id: ++this.number, kind: "void", at: "", recorded_at: "", text: "Undone" } });
    }
    const [, side, csv] = /^sides\/(left|right)\/history(\.csv)?$/.exec(rest) ?? [];
    if (!side) return null;
    const found = history(household, side, this.clock().toISOString(), this.quiet ? [] : this.findings, this.checks);
    return csv ? { status: 200, text: history_csv(found), type: "text/csv; charset=utf-8" } : shown(found);
  }

  /// Null: the route is another's.
  answer(method, path, query, body) {
    const as_of = this.clock().toISOString();
    const is = (wanted, at) => method === wanted && path === at;
    if (is("GET", "/findings")) return shown(this.list(query.get("state") ?? "open"));
    if (is("POST", "/findings/state")) return this.state(body);
    if (this.begun && is("GET", "/units")) return shown({ as_of: null, fresh: false, left_out: [], units: [] });
    if (this.begun && is("GET", "/lots-in-use")) return shown({ as_of: null, fresh: false, left_out: [], lots: [] });
    if (this.begun && is("GET", "/wear")) return shown({ as_of: null, kinds: [] });
    if (is("GET", "/units")) return shown(this.quiet ? { as_of, fresh: true, left_out: [], units: [] } : units(as_of, this.left_out));
    if (is("GET", "/lots-in-use")) return shown(this.quiet ? { as_of, fresh: true, left_out: [], lots: [] } : lots(as_of, this.left_out));
    if (is("GET", "/wear")) return shown(this.quiet ? { as_of, kinds: [] } : wear(as_of));
    const [, serial, events] = /^\/units\/([^/]+)(\/events)?$/.exec(path) ?? [];
    if (serial && events) {
      if (body.what === "void") this.events = this.events.filter((one) => one.number !== body.voids);
      else this.events.push({ number: ++this.number, at: body.at, household: null, side: null, what: "workshop", voidable: true, text: `A fault was noted${body.note ? `: ${body.note}` : "."}` });
      return created({ number: this.number, kind: "unit_event", recorded_at: as_of });
    }
    if (serial) {
      const unit = unit_of(decodeURIComponent(serial), as_of, this.findings, this.events, this.left_out);
      return unit ? shown(unit) : problem(404, "unknown-unit", "There is no unit of this serial number.");
    }
    const [, household, rest] = /^\/households\/([^/]+)\/(.+)$/.exec(path) ?? [];
    if (household) return this.household(method, decodeURIComponent(household), rest, body);
    return this.profiles.answer(method, path, body);
  }
}
