// SPDX-License-Identifier: MIT
// The technician's bench in Spanish: each page is told in it as a whole, findings as the service says them too.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { with_bench } from "./support/bench.mjs";
import { load_source } from "./support/source.mjs";

const spanish = { locale: "es-ES" };
const folder = new URL("../../web/src/words/catalogue/", import.meta.url);
const section = (language, name) => JSON.parse(readFileSync(new URL(`${language}/${name}.json`, folder), "utf8"));
const told_here = section("es", "bench");
/// Sentences without a gap that Spanish says otherwise: none of them may be in sight. Two words may be a name's.
const english = Object.entries(section("en", "bench")).filter(([key, words]) => typeof words === "string" && /\w \w+ \w/.test(words) && !/[{}]/.test(words) && told_here[key] !== words).map(([, words]) => words);
const step = encodeURIComponent("use/h-0142/left/2026-11-19T20:31:00Z");
const pages = [
  "bench", `bench/finding?id=${step}`, "bench/sides", "bench/side?household=h-0142&side=left", "bench/units", "bench/unit?serial=u-31", "bench/lots", "bench/wear",
  "bench/profiles", "bench/cell", "bench/measure?kind=unit&serial=u-31", "bench/steps",
];

with_bench("Spanish", ({ at_bench }) => {
  for (const hash of pages) {
    test(`#${hash} is told as a whole`, at_bench(hash, async (page) => {
      assert.equal(await page.locator("html").getAttribute("lang"), "es");
      await page.waitForFunction(() => document.querySelector("main h1") && !document.body.innerText.includes("Preguntando…"));
      for (const one of await page.locator("details").all()) await one.evaluate((details) => (details.open = true));
      const shown = await page.evaluate(() => document.body.innerText);
      assert.deepEqual(english.filter((words) => shown.includes(words)), []);
      assert.equal(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth), false, "it fits the screen");
    }, spanish));
  }

  test("one's own page offers the language, and says that a native speaker has not checked it", at_bench("own", async (page) => {
    await page.getByText("Todavía sin revisar por una persona de lengua española.").waitFor();
    await page.getByLabel("English").check();
    await page.locator("html[lang=en]").waitFor();
    await page.getByRole("link", { name: "Technician's bench" }).waitFor();
  }, spanish));
});

test("what the service says of a finding is told again in Spanish", async () => {
  const source = await load_source("words/language", "words/told", "words/spanish");
  const catalogue = Object.fromEntries(["service", "service_words", "bench", "service_bench", "service_bench_words"].map((name) => [name, section("es", name)]));
  source.speak("es", { catalogue, told_document: source.told_document, grammar: source.spanish_grammar });
  source.add_forms("service_bench", section("en", "service_bench"));
  assert.equal(source.told("Use changed from one set to the next on the left side."), "El uso cambió de un juego al siguiente en el lado izquierdo.");
  assert.equal(source.told("Use grows."), "El uso crece.");
  assert.equal(source.told("4 sets since then used 12.5 % more."), "4 juegos desde entonces gastaron 12,5 % más.");
  assert.equal(source.told("1 set in 1 home used as expected, each against its own side's level."), "1 juego en 1 hogar gastaron lo esperado, cada uno frente al nivel de su propio lado.");
  assert.equal(source.told("The difference, weighed with how much sets differ anyway: 9.3 % more (95 %: 4.1 to 15 %)."), "La diferencia, pesada con lo que los juegos difieren de todos modos: 9,3 % más (95 %: 4,1 a 15 %).");
  assert.equal(source.told("That something is wrong: more than 99 in 100."), "Que algo vaya mal: más de 99 de cada 100.");
  assert.equal(source.told("Cannot tell the cause yet. Measure the unit's current on the bench."), "Todavía no se puede decir la causa. Mida la corriente de la unidad en el banco.");
  assert.equal(source.told("Most probably the settings on the unit are not those of the record. Which are right is for the clinician to say."), "Lo más probable es que los ajustes de la unidad no sean los registrados. Cuáles son los correctos lo dice el personal clínico.");
  assert.equal(source.told("Closed by Second bench: looked at, and nothing found."), "Cerrado por Second bench: se miró y no se encontró nada.");
  assert.deepEqual(source.told_document({ causes: [{ words: "the cells hold less than their type does" }] }), { causes: [{ words: "las pilas dan menos que su tipo" }] });
});
