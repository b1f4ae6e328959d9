// SPDX-License-Identifier: MIT
// A message to the agency: what it is about, and a note. It keeps the time when it was written, however late it is sent; it
// is not held back where this phone's clock is wrong.
import type { About } from "../api/agency";
import type { Draft } from "../state/draft";
import { rfc3339 } from "../time/zone";
import { tell } from "../words/catalogue/agency";
import type { Context, FieldOfPlace, Model } from "./context";

export const message_fields: FieldOfPlace = { "/about": "about", "/note": "note" };

export const abouts: Record<About, string> = { running_short: tell("message.we_are_running_short"), unit_trouble: tell("message.trouble_with_a_unit") };

const note_bytes = 500;

export function message_model(draft: Draft, context: Context, now: Date): Model {
  const errors: Record<string, string> = {};
  const about = draft.about === "running_short" || draft.about === "unit_trouble" ? draft.about : null;
  const note = (draft.note ?? "").trim();
  if (!about) errors.about = tell("message.choose");
  if (new TextEncoder().encode(note).length > note_bytes) errors.note = tell("message.too_long");
  if (!about || errors.note) return { errors, summary: "", posts: [] };
  const words = tell(`message.${about}`);
  return {
    errors,
    summary: note ? tell("message.with_note", { words, note }) : tell("message.plain", { words }),
    posts: [{ path: "messages", about: "agency", words, body: { about, at: rfc3339(now, context.zone), ...(note && { note }), confirmed: ["future-date"] } }],
  };
}
