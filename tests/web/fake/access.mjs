// SPDX-License-Identifier: MIT
// Who is signed in at the stand-in: sessions by cookie, invitations that work once, passkeys that are believed (the
// stand-in checks no signature), a household's sealed code. `locked` asks everyone to sign in; without it everyone is a
// phone of whatever household they ask for.
import { createRequire } from "node:module";
import { randomBytes } from "node:crypto";
import { clock_at_home } from "./times.mjs";

const qrcode = createRequire(new URL("../../../web/package.json", import.meta.url))("qrcode-generator");

const everything = ["signed-in", "read-household", "export-household", "record-readings", "record-use", "record-stock", "record-setup", "record-plans", "see-phones", "end-phones", "invite", "make-sealed-code"];
const planning = ["plan-rounds", "read-lots", "manage-lots", "read-costs", "import", "export-agency", "rounds-feed"];
const permissions = {
  household: everything,
  guest: ["signed-in", "read-household", "record-readings", "record-use", "record-stock"],
  planner: ["signed-in", "read-household", "record-stock", "see-phones", "end-phones", "invite", "list-households", ...planning],
  technician: ["signed-in", "read-household", "record-readings", "record-setup", "list-households", "review", "keep-profiles"],
  administrator: [...everything, ...planning, "list-households", "create-household", "manage-accounts", "read-audit", "review", "keep-profiles"],
};

const word = (bytes) => randomBytes(bytes).toString("base64url");
const minutes_later = (at, minutes) => new Date(at.getTime() + minutes * 60_000).toISOString();

export const problem = (status, code, title, more = {}) => ({ status, body: { type: `/problems/${code}`, title, status, ...more } });
const not_signed_in = (ended) => problem(401, "not-signed-in", "Sign in first.", ended && { ended });
const used_or_over = () => problem(410, "invitation-used-or-over", "This invitation was used or is over.");

export function rows_of(link) {
  const code = qrcode(0, "M");
  code.addData(link);
  code.make();
  const size = code.getModuleCount();
  return Array.from({ length: size }, (_, row) => Array.from({ length: size }, (_, column) => (code.isDark(row, column) ? "1" : "0")).join(""));
}

export class FakeAccess {
  accounts = new Map();
  sessions = new Map();
  invitations = new Map();
  sealed = new Map();
  passkeys = new Map();
  challenges = new Set();
  used_recovery = new Map();

  constructor(clock, locked) {
    this.clock = clock;
    this.locked = locked;
  }

  sign_in(account) {
    const token = word(32);
    this.sessions.set(token, account.account);
    return `__Host-cellarer=${token}; Secure; HttpOnly; SameSite=Strict; Path=/`;
  }

  add_account({ role, household = null, label, hours = null, until = null }) {
    const account = { account: word(16), role, household, label, hours, until, since: this.clock().toISOString(), last_seen: this.clock().toISOString() };
    this.accounts.set(account.account, account);
    return account;
  }

  who(request) {
    if (!this.locked) return { account: "a", role: "household", household: null, label: "Kitchen phone" };
    const token = /__Host-cellarer=([\w-]+)/.exec(request.headers.cookie ?? "")?.[1];
    return this.accounts.get(this.sessions.get(token)) ?? null;
  }

  /// The problem, if this household may not be read by the one who asks.
  shut(request, household) {
    const who = this.who(request);
    if (!who) return not_signed_in(this.ended_because);
    if (who.hours && !this.within(who.hours)) return problem(403, "outside-hours", "Outside the hours of this phone.", { detail: `This phone reads and records between ${who.hours.from} and ${who.hours.to}.` });
    return who.household && who.household !== household ? problem(404, "unknown-household", "There is no household of this name.") : null;
  }

  within({ from, to }) {
    const now = clock_at_home(this.clock());
    return from < to ? from <= now && now < to : now >= from || now < to;
  }

  may(who, permission) {
    return permissions[who?.role]?.includes(permission) ?? false;
  }

  document(who) {
    return { role: who.role, label: who.label, agency: "agency", household: who.household, account: who.account, until: who.until, hours: who.hours, permissions: permissions[who.role] ?? [], recovery_used_at: this.used_recovery.get(who.household) ?? null };
  }

  invite(body, base) {
    const code = word(20);
    const link = `${base}/in#${code}`;
    const made = { ...body, invitation: word(8), code, link, expires_at: minutes_later(this.clock(), 30) };
    this.invitations.set(code, made);
    return { ...made, qr: rows_of(link) };
  }

  accept({ code, label }) {
    const invitation = this.invitations.get(code);
    if (!invitation) return used_or_over();
    if (!["household", "guest"].includes(invitation.role)) return { status: 200, body: { passkey_options: this.creation_options(invitation) } };
    this.invitations.delete(code);
    return this.entered(this.add_account({ ...invitation, label: label ?? invitation.label }));
  }

  entered(account, more = {}) {
    return { status: 201, body: { ...this.document(account), ...more }, cookie: this.sign_in(account) };
  }

  challenge() {
    const challenge = word(32);
    this.challenges.add(challenge);
    return challenge;
  }

  creation_options({ label }) {
    return {
      challenge: this.challenge(), rp: { id: "localhost", name: "Cellarer" }, user: { id: word(16), name: label, displayName: label },
      pubKeyCredParams: [{ type: "public-key", alg: -8 }, { type: "public-key", alg: -7 }], attestation: "none",
      authenticatorSelection: { residentKey: "required", userVerification: "preferred" }, excludeCredentials: [],
    };
  }

  /// The challenge must be one that was given, once.
  believed(credential) {
    const told = JSON.parse(Buffer.from(credential.response.clientDataJSON, "base64url"));
    return this.challenges.delete(told.challenge);
  }

  keep_passkey({ code, credential }, who) {
    const invitation = this.invitations.get(code);
    if (!this.believed(credential) || (!invitation && !who)) return used_or_over();
    const account = invitation ? this.add_account(invitation) : who;
    this.invitations.delete(code);
    this.passkeys.set(credential.id, account);
    const recovery_codes = Array.from({ length: 10 }, () => randomBytes(10).toString("hex").replace(/(.{5})(?=.)/g, "$1-"));
    return invitation ? this.entered(account, { recovery_codes }) : { status: 201, body: this.document(account) };
  }

  use_passkey({ credential }) {
    const account = this.passkeys.get(credential.id);
    return account && this.believed(credential) ? this.entered(account) : not_signed_in();
  }

  use_code({ code }) {
    if (code === "too-often") return problem(429, "too-many-attempts", "Too many attempts.", { retry_after_s: 40 });
    const household = this.sealed.get(code);
    if (!household) return not_signed_in();
    this.sealed.delete(code);
    const at = this.clock().toISOString();
    this.used_recovery.set(household, at);
    this.ended_because = { why: "sealed-code", at };
    for (const [id, account] of this.accounts) if (account.household === household) this.end(id);
    return this.entered(this.add_account({ role: "household", household, label: "By recovery code" }));
  }

  seal(household) {
    for (const [code, of] of this.sealed) if (of === household) this.sealed.delete(code);
    const code = `H-${randomBytes(12).toString("hex").replace(/(.{6})(?=.)/g, "$1-").toUpperCase()}`;
    this.sealed.set(code, household);
    return { status: 201, body: { code } };
  }

  end(id) {
    this.accounts.delete(id);
    for (const [token, account] of this.sessions) if (account === id) this.sessions.delete(token);
  }

  phones(household, who) {
    return [...this.accounts.values()].filter((one) => one.household === household).map((one) => ({ ...one, this_phone: one.account === who.account }));
  }
}
