// SPDX-License-Identifier: MIT
// An invented audit trail: links of all that an agency records and does, a household that was erased, a break on demand.
import { createHash } from "node:crypto";
import { problem } from "./desk.mjs";

const sha256 = (text) => createHash("sha256").update(text).digest("hex");
const kinds = ["reading", "cell_change", "stock_count", "planned_delivery", "delivery_answer", "message", "message_seen", "void", "reminders"];
const of_the_agency = [["agency.round", "north morning 2026-11-20"], ["agency.agency_stock", "cells"], ["agency.lot_recall", "B7"], ["learned", "households"], ["agency.something_new", "as it is"]];
const erased = { at: null, who: null, action: null, subject: null, household: null, erased: true };

export class FakeTrail {
  broken = null; // the sentence of the first break
  failing = false; // as a service that cannot be reached for the moment
  asked = 0; // how often the whole chain was computed

  /// `office` is the account that plans and signs in, `phone` one of a home.
  constructor(clock, homes, { length = 260, office = "k3J8sPq1ZtYw0aBc", phone = "pH0neOfAHome_7Qx" } = {}) {
    this.office = office;
    this.links = [];
    const told = (index) => new Date(clock().getTime() - (length - index) * 1_500_000).toISOString().replace(/\.\d+/, "");
    for (let index = 0; index < length; index++) this.add({ at: told(index), ...this.invented(index, length, homes, phone) });
  }

  invented(index, length, homes, phone) {
    const { office } = this;
    const household = homes[(index * 7) % homes.length];
    if (index === 0) return { who: null, action: "agency-made", subject: "agency", household: null };
    if (index === length - 2) return { who: office, action: "erased", subject: "household", household: null };
    if (index === length - 5 || index === length - 6) return erased;
    if (index % 12 === 1) return { who: office, action: "signed-in", subject: office, household: null };
    if (index % 12 === 5) return { who: office, action: "invited", subject: phone, household };
    if (index % 5 === 3) {
      const [action, subject] = of_the_agency[Math.floor(index / 5) % of_the_agency.length];
      return { who: action === "learned" ? null : office, action, subject, household: null };
    }
    return { who: index % 2 ? phone : office, action: kinds[index % kinds.length], subject: String(3 + (index % 40)), household };
  }

  add(link) {
    const number = this.links.length + 1;
    const content_hash = sha256(`content ${number}`);
    const hash = sha256(`agency ${number} ${content_hash} ${this.links.at(-1)?.hash ?? ""}`);
    this.links.push({ number, content_hash, hash, erased: false, ...link });
  }

  answer(query) {
    if (this.failing) return problem(503, "busy", "The service is busy.", { detail: "Try again in a moment." });
    const wrong = (place, reason) => problem(422, "out-of-range", "A field is outside its range", { errors: [{ place, code: "out-of-range", reason }] });
    const limit = Number(query.get("limit") ?? 50);
    const cursor = query.get("cursor");
    if (!(limit >= 1 && limit <= 200)) return wrong("?limit", "expected a whole number from 1 to 200");
    if (cursor !== null && !/^[1-9]\d*$/.test(cursor)) return wrong("?cursor", "expected what the page before named as next");
    const below = this.links.filter((one) => cursor === null || one.number < Number(cursor)).reverse();
    const links = below.slice(0, limit);
    const document = { links, next: below.length > limit ? String(links.at(-1).number) : null };
    if (cursor !== null) return { status: 200, body: document };
    this.asked++;
    return { status: 200, body: { ...document, whole: this.broken === null, first_break: this.broken } };
  }
}
