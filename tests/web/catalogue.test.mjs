// SPDX-License-Identifier: MIT
// One catalogue for every sentence of the phone's pages and of the bench: nothing a person reads stands anywhere else, each language has
// all of it with the same gaps, and what the service says is told again by its form.
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import test from "node:test";
import { fileURLToPath } from "node:url";
import { sentences_in, sentences_of } from "./support/sentences.mjs";
import { load_source } from "./support/source.mjs";

const root = fileURLToPath(new URL("../../", import.meta.url));
const catalogue = `${root}web/src/words/catalogue`;
const sections = (language) => Object.fromEntries(readdirSync(`${catalogue}/${language}`).map((name) => [name.replace(".json", ""), JSON.parse(readFileSync(`${catalogue}/${language}/${name}`, "utf8"))]));
const english = sections("en");
const spanish = sections("es");
const files_of = (folder) => readdirSync(folder, { withFileTypes: true, recursive: true }).filter((one) => one.isFile()).map((one) => `${one.path ?? one.parentPath}/${one.name}`);

/// What goes before a gap ("{de:when}") is its language's own.
const gaps = (message) => [...new Set(JSON.stringify(message).replace(/\{\p{L}+:/gu, "{").match(/\{\w+\}/g) ?? [])].sort();
const kinds = (message) => (typeof message === "string" ? "plain" : Object.keys(message).sort().join());

test("each language has every sentence, with the same gaps and the same plural forms", () => {
  for (const [section, messages] of Object.entries(english)) {
    assert.deepEqual(Object.keys(spanish[section] ?? {}), Object.keys(messages), section);
    for (const [key, message] of Object.entries(messages)) {
      const told = spanish[section][key];
      assert.deepEqual(gaps(told), gaps(message), `${section}: ${key}`);
      assert.equal(kinds(told), kinds(message), `${section}: ${key}`);
      assert.ok(JSON.stringify(told).length > 2, `${section}: ${key} is empty`);
    }
  }
});

test("the four phrases have their words and limits in each language", () => {
  const phrases = JSON.parse(readFileSync(`${root}web/src/words/phrases.json`, "utf8"));
  for (const [code, phrase] of Object.entries(phrases)) {
    for (const what of ["words", "limit"]) assert.deepEqual(gaps(spanish.phrases[`${code}.${what}`]), gaps(phrase[what]), code);
  }
});

test("no sentence is left in the pages outside the catalogue", () => {
  const pages = ["access", "bench", "chart", "forms", "offline", "pages", "parts", "reminders", "staff", "state", "time", "words"].flatMap((folder) => files_of(`${root}web/src/${folder}`));
  const left = pages.filter((path) => /\.tsx?$/.test(path) && !path.includes("/catalogue/") && !path.endsWith("pages/start.tsx")).flatMap((path) => sentences_of(path).map((one) => `${path.slice(root.length)}: ${one}`));
  assert.deepEqual(left, []);
});

test("a sentence in a page would be found, in each of the places where words stand", () => {
  const found = (source) => sentences_in(source).length > 0;
  for (const source of ["const a = <p>Look here</p>;", 'const a = <Input legend="Since when" />;', 'const a = { words: "Left" };', "const a = `Change by ${day}.`;", 'const a = say ? "Nothing is planned." : "";']) assert.ok(found(source), source);
  for (const source of ['const a = <p class="card act">{tell("a.b")}</p>;', 'const a = tell("home.close");', 'if (a === "Not found here") go();', 'const a = field(form, "side");']) assert.ok(!found(source), source);
});

test("every sentence of the catalogue is used", () => {
  const source = files_of(`${root}web/src`).filter((path) => /\.tsx?$/.test(path)).map((path) => readFileSync(path, "utf8")).join("\n");
  const composed = [...source.matchAll(/`([a-z_]+\.[a-z_]*)\$\{/g)].map(([, start]) => start);
  for (const [section, messages] of Object.entries(english)) {
    if (section.startsWith("service")) continue;
    const unused = Object.keys(messages).filter((key) => !source.includes(`"${key}"`) && !composed.some((start) => key.startsWith(start)));
    assert.deepEqual(unused, [], section);
  }
});

test("what the service says is told by forms whose words stand in the service", () => {
  const folders = ["server", "model/life", "model/stock", "web/src/api"];
  const source = folders.flatMap((folder) => files_of(`${root}${folder}`)).filter((path) => /\.(cpp|ts)$/.test(path)).map((path) => readFileSync(path, "utf8")).join("\n").replace(/"\s*\n\s*"/g, "");
  const words = new Set(source.match(/[A-Za-z']+/g));
  for (const [key, form] of [english.service, english.service_refusals, english.service_bench, english.service_push].flatMap(Object.entries)) {
    const unknown = form.replace(/\{\w+\}/g, " ").match(/[A-Za-z']+/g)?.filter((word) => !words.has(word) && !words.has(word.toLowerCase())) ?? [];
    assert.deepEqual(unknown, [], `${key}: no part of the service says this word`);
  }
});

const source = await load_source("words/language", "words/tell", "words/told", "words/moments", "words/phrases", "words/names", "words/spanish");
const speech = { catalogue: spanish, told_document: source.told_document, told_problem: source.told_problem, grammar: source.spanish_grammar };

test("the service's sentences read in Spanish, and one that no form fits stays as it is", () => {
  source.speak("es", speech);
  assert.equal(source.told("Change by Fri 27 Nov, 21:30."), "Cambiar antes de las 21:30 del vie 27 nov.");
  assert.equal(source.told("By 21:30 today, for the visit."), "Hoy, antes de las 21:30, por la visita.");
  assert.equal(source.told("By 21:30 today."), "Hoy, antes de las 21:30.");
  assert.equal(source.told("By Fri 27 Nov, 21:30."), "Antes de las 21:30 del vie 27 nov.");
  assert.equal(source.told("22 cells. Order 24 by Thu 10 Dec."), "22 pilas. Pida 24 antes del jue 10 dic.");
  assert.equal(source.told("Amplitude up from 4 to 4.6: 11 % faster."), "Amplitud subida de 4 a 4,6: 11 % más deprisa.");
  assert.equal(source.told("The unit warned at 03:10. Change the left cells now."), "La unidad avisó a las 03:10. Cambie ahora las pilas del lado izquierdo.");
  assert.equal(source.told("Back home from hospital: cells left as before, right not known."), "De vuelta en casa desde el hospital: pilas izquierdas como antes, derechas no se sabe.");
  assert.equal(source.told("A delivery is planned on north 2026-12-02: 2 packs of tape, 1 pack of cells."), "Hay una entrega prevista en north 2026-12-02: 2 paquetes de cinta, 1 paquete de pilas.");
  assert.equal(source.told("The delivery of north 2026-12-02 did not come."), "La entrega de north 2026-12-02 no llegó.");
  assert.equal(source.told("Used: 3 cells, lot A1, home."), "Usado: 3 pilas, lote A1, casa.");
  assert.equal(source.told("Used: 2 tape, home."), "Usado: 2 rollos de cinta, casa.");
  assert.equal(source.told("Change by 21:30 today."), "Cambiar antes de las 21:30 de hoy.");
  assert.equal(source.told("The unit warned at 01:10 yesterday."), "La unidad avisó ayer a la 01:10.");
  assert.equal(source.told("Paced all day since 21:30 today until Fri 27 Nov."), "Estimulación todo el día desde hoy a las 21:30 hasta el vie 27 nov.");
  assert.equal(source.told("Unit u-2 since Fri 27 Nov, 21:30."), "Unidad u-2 desde el vie 27 nov a las 21:30.");
  assert.equal(source.told("Something that nobody has foreseen."), "Something that nobody has foreseen.");
  const document = source.told_document({ phrase: "change_now", sentence: "Change now.", because: ["No reading of these cells yet."], plans: [{ kind: "hospital", text: "In hospital." }] });
  assert.deepEqual(document, { phrase: "change_now", sentence: "Cambiar ahora.", because: ["Todavía no hay ninguna lectura de estas pilas."], plans: [{ kind: "hospital", text: "En el hospital." }] });
});

test("a refusal reads in Spanish as a whole: a reason that no form fits gives way, a detail without words is left out", () => {
  source.speak("es", speech);
  const reasons = (...all) => all.map((reason) => ({ place: "/a", code: "b", reason }));
  const told = source.told_problem({ type: "/problems/out-of-range", status: 422, title: "A field is outside its range", detail: "/percent: 131 is outside 0 to 100", errors: reasons("131 is outside 0 to 100", "is less than Monday already has, 9.5 hours of pacing: give at least that, or shorten its times", "something new") });
  assert.deepEqual(told, { type: "/problems/out-of-range", status: 422, title: "Un dato está fuera de lo posible", errors: reasons("131 no está entre 0 y 100", "es menos de lo que ya tiene el lunes, 9,5 horas de estimulación: ponga al menos eso, o acorte sus horas", "El servicio no lo admite así: mírelo otra vez.") });
  assert.equal(source.told_problem({ title: "This phone has set hours", detail: "This phone reads and records from 08:00 to 15:00. The unit's own alarm comes first: act on it at once." }).detail, "Este teléfono lee y registra de 08:00 a 15:00. La alarma de la unidad va primero: hágale caso enseguida.");
});

test("dates, numbers and plurals follow the language", () => {
  source.speak("es", speech);
  const now = new Date("2026-11-24T19:40:00Z");
  assert.equal(source.moment_words(new Date("2026-11-27T20:30:00Z"), now, "Europe/Oslo"), "vie 27 nov, 21:30");
  assert.equal(source.moment_words(new Date("2026-11-24T20:30:00Z"), now, "Europe/Oslo"), "hoy 21:30");
  assert.equal(source.pieces(1, "cells"), "1 pila");
  assert.equal(source.pieces(12, "cells"), "12 pilas");
  assert.equal(source.phrase_of({ phrase: "no_forecast" }).words, "Sin previsión.");
  source.speak("en", null);
  assert.equal(source.pieces(1, "cells"), "1 cell");
  assert.equal(source.phrase_of({ phrase: "no_forecast" }).words, "No forecast.");
});

// Diccionario panhispánico de dudas (RAE), "hora" and "fecha": "a la 1:10", "a las 21:30"; the day of a month has "el", a near day none.
test("in Spanish a time stands after its preposition as it is said", () => {
  const { joined } = source.spanish_grammar;
  const rows = { "hoy 21:30": ["de las 21:30 de hoy", "hoy a las 21:30", "desde hoy a las 21:30"], "vie 27 nov, 21:30": ["de las 21:30 del vie 27 nov", "el vie 27 nov a las 21:30", "desde el vie 27 nov a las 21:30"],
    "jue 2 sept 2027, 01:05": ["de la 01:05 del jue 2 sept 2027", "el jue 2 sept 2027 a la 01:05", "desde el jue 2 sept 2027 a la 01:05"], "jue 10 dic": ["del jue 10 dic", "el jue 10 dic", "desde el jue 10 dic"],
    "21:30": ["de las 21:30", "a las 21:30", "desde las 21:30"], ayer: ["de ayer", "ayer", "desde ayer"], "lo que sea": ["de lo que sea", "lo que sea", "desde lo que sea"], "": ["de ", "", "desde "] };
  for (const [value, [de, el, desde]] of Object.entries(rows)) assert.deepEqual(["de", "el", "desde"].map((before) => joined(before, value)), [de, el, desde], value);
});

test("no Spanish sentence joins a time to a preposition by itself", () => {
  const bare = /\b(?:de|del|desde|hasta|antes del?|después del?|a las?) \{(?:when|when_2|moment|change_by|clock)\}/i;
  const found = Object.entries(spanish).flatMap(([section, messages]) => Object.entries(messages).filter(([, message]) => bare.test(JSON.stringify(message))).map(([key]) => `${section}: ${key}`));
  assert.deepEqual(found, ["service_refusals: hours"], "from one clock to another: \"de 08:00 a 15:00\"");
});

test("the language is the one chosen, else the phone's first that there is, else English", () => {
  assert.equal(source.wanted_language("es", ["en-GB"]), "es");
  assert.equal(source.wanted_language(null, ["ca-ES", "es-MX", "en"]), "es");
  assert.equal(source.wanted_language(null, ["nb-NO"]), "en");
  assert.equal(source.wanted_language("tlh", ["nb-NO"]), "en");
});

test("Spanish promises no more than English does", () => {
  const all = JSON.stringify(spanish);
  for (const promise of [/\bsegur[oa]s?\b/i, /\ba salvo\b/i, /\bsin peligro\b/i, /\bgarantiza/i, /\btodo va bien\b/i]) assert.doesNotMatch(all, promise);
});
