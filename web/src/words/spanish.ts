// SPDX-License-Identifier: MIT
// What Spanish needs besides its words: how a time or a day stands after a preposition, the names of the sides within a
// sentence, and its decimal sign. A gap says what goes before it: "Cambiar antes {de:when}."
import type { Grammar } from "./language";

/// "hoy 21:30", "vie 27 nov, 21:30", "21:30", "jue 10 dic": a day, a clock or both. Anything else is no time.
const a_time = /^(?:(hoy|mañana|ayer|\p{L}{3} \d{1,2} \p{L}{3,4}(?: \d{4})?)(?:,? |$))?(\d\d:\d\d)?$/u;

const clock_words = (clock: string): string => `${clock.startsWith("01") ? "la" : "las"} ${clock}`;
const is_near = (day: string): boolean => !/\d/.test(day);

/// "de las 21:30 del vie 27 nov": what lies before or after a time names the clock first.
function after_de(day: string, clock: string): string {
  const of_day = day && (is_near(day) ? `de ${day}` : `del ${day}`);
  return [clock && `de ${clock_words(clock)}`, of_day].filter(Boolean).join(" ");
}

/// "el vie 27 nov a las 21:30"; after "desde", "hasta" or "para" a clock alone has no "a".
function after_other(before: string, day: string, clock: string): string {
  const named = day && (is_near(day) ? day : `el ${day}`);
  const at = clock && `${day || before === "el" ? "a " : ""}${clock_words(clock)}`;
  return [before === "el" ? "" : before, named, at].filter(Boolean).join(" ");
}

function joined(before: string, value: string): string {
  const [, day = "", clock = ""] = a_time.exec(value) ?? [];
  if (!day && !clock) return before === "el" ? value : `${before} ${value}`;
  return before === "de" ? after_de(day, clock) : after_other(before, day, clock);
}

export const spanish_grammar: Grammar = { joined, decimal_sign: ",", sides: { left: "izquierdo", right: "derecho" } };
