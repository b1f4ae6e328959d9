// SPDX-License-Identifier: MIT
// The stand-in's reminders: settings, the calendar's address, what a phone is sent. Null: the route is another's.

const begun = { settings: { what: ["changes", "orders"], at: null, quiet: { from: "22:00", to: "07:00" }, words: "neutral", second_after_min: 60 }, entry: 0, calendar: null, this_phone: null };

export class FakeReminders {
  constructor(clock, offered, closed_at) {
    this.clock = clock;
    this.closed_at = closed_at;
    this.offered = offered;
    this.state = structuredClone(begun);
    if (closed_at) Object.assign(this.state, { calendar: { since: "2026-10-01T08:00:00Z", last_read_at: null }, this_phone: { part: "first", since: "2026-10-01T08:00:00Z", last_sent_at: null, last_confirmed_at: null } });
    this.confirmed = [];
  }

  push() {
    const phones = [{ label: "Grandparents", part: "second", last_confirmed_at: null, this: false }];
    return { offered: this.offered, key: this.offered ? "BNcRdreALRFXTkOOUHK1EtK2wtaz5Ry4YfYCA_0QTpQtUbVlUls0VJXg7A8u-Ts1XbjhazAkj7I99e8QcYP7DkM" : null, this_phone: this.state.this_phone, phones };
  }

  confirm(reminder, now) {
    this.confirmed.push(reminder);
    if (this.state.this_phone) this.state.this_phone.last_confirmed_at = now;
  }

  document() {
    const { settings, entry, calendar } = this.state;
    return { settings, entry, closed_at: this.closed_at, calendar, push: this.push() };
  }

  answer(method, path, body, key) {
    const now = this.clock().toISOString();
    const is = (wanted, at) => method === wanted && path === at;
    if (is("GET", "reminders")) return { status: 200, body: this.document() };
    if (is("POST", "reminders")) {
      if (!key) return { status: 400, body: { type: "/problems/key-missing", title: "An Idempotency-Key is needed.", status: 400 } };
      Object.assign(this.state, { settings: body, entry: this.state.entry + 1 });
      return { status: 201, body: {} };
    }
    if (is("POST", "calendar")) {
      this.state.calendar = { since: now, last_read_at: null };
      return { status: 201, body: { address: "https://cellarer.example/api/v1/feeds/reminders.ics?key=invented", webcal: "webcal://cellarer.example/api/v1/feeds/reminders.ics?key=invented" } };
    }
    if (is("DELETE", "calendar")) this.state.calendar = null;
    else if (is("POST", "push")) {
      this.state.this_phone = { part: body.part, since: now, last_sent_at: null, last_confirmed_at: null };
      return { status: 201, body: this.push() };
    } else if (is("DELETE", "push")) this.state.this_phone = null;
    else if (is("POST", "push/trial")) return { status: 202, body: { queued: true } };
    else if (is("POST", "push/confirmed")) this.confirm(body.reminder, now);
    else return null;
    return { status: 204, body: null };
  }
}
