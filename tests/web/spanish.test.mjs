// SPDX-License-Identifier: MIT
// The journeys people come for, on a phone that speaks Spanish; and that each screen is told in it as a whole.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { on_the_evening } from "./support/journey.mjs";
import { choose, press, side, stock } from "./support/phone.mjs";
import { open_screen, screens } from "./support/screens.mjs";

const spanish = { locale: "es-ES" };

/// Words that no Spanish sentence has, in what is shown. Names that people gave (a place, a label) are theirs.
const english_left = (page) =>
  page.evaluate(() => {
    const shown = document.body.innerText.replace(/hall cupboard|Kitchen phone|Grandparents|School phone|America\/New_York|English/g, "");
    return shown.match(/[^\n]*\b(the|of|and|is|are|was|with|for|from|cells|side|when|this|not|what)\b[^\n]*/g) ?? [];
  });

describe("in Spanish", () => {
  const { reading, base } = on_the_evening();

  test("the page says so, and its four phrases are told", reading("due", async (page) => {
    assert.equal(await page.locator("html").getAttribute("lang"), "es");
    await side(page, "left").getByText("Se espera que duren esta noche.").waitFor();
    await side(page, "right").getByText("Cambiar antes de esta noche.").waitFor();
    await page.locator("footer").getByText("Una estimación. La alarma de la unidad va primero: hágale caso enseguida.").waitFor();
  }, spanish));

  for (const household of ["due", "now", "warned", "unknown", "disagreeing", "nostock", "planned", "hospital", "back", "expecting"]) {
    test(`every screen of a household (${household}) is told as a whole`, reading(household, async (page) => {
      for (const hash of screens) {
        await open_screen(page, hash);
        await page.waitForLoadState("networkidle");
        assert.deepEqual((await english_left(page)).map((line) => `#${hash}: ${line}`), []);
      }
    }, spanish));
  }

  test("a change is recorded and undone", reading("calm", async (page) => {
    await press(page, "Pilas cambiadas");
    await press(page, "Registrar esto");
    await page.getByText("Elija el lado.").waitFor();
    await choose(page, "Izquierdo");
    await choose(page, /Lote 7Q/);
    await page.getByText(/^Izquierdo: pilas cambiadas hoy a las 20:40; como estaba previsto; pilas de lote 7Q/).waitFor();
    await press(page, "Registrar esto");
    await press(page, "Sí, las pilas del lado izquierdo");
    await side(page, "left").getByText(/^Registrado:/).waitFor();
    await press(side(page, "left"), "Deshacer");
    await side(page, "left").getByText(/^Registrado:/).waitFor({ state: "detached" });
  }, spanish));

  test("what the service refuses is told at its field, with what to do about it", reading("calm", async (page) => {
    await press(page, "Pilas cambiadas");
    await choose(page, "Izquierdo");
    await choose(page, "Otras pilas");
    await choose(page, /LR6/);
    await page.getByLabel(/^Número de lote/).fill("refused");
    await press(page, "Registrar esto");
    await press(page, "Sí, las pilas del lado izquierdo");
    await page.getByText("Corrija: es demasiado largo: como mucho 60 letras", { exact: true }).waitFor();
  }, spanish));

  test("what cannot be sent waits, in words", reading("calm", async (page) => {
    await page.route("**/readings", (route) => route.abort());
    await press(page.getByLabel("Qué anotar"), "Anotar una lectura");
    await choose(page, "Derecho");
    await page.getByLabel("La unidad muestra").fill("62,5");
    await page.getByText(/^Derecho: indicador 62,5 %, estimulando, hoy 20:40\.$/).waitFor();
    await press(page, "Registrar esto");
    await side(page, "right").getByText(/aún sin enviar\.$/).waitFor();
  }, spanish));

  test("the address of a calendar asks for events in Spanish", reading("calm-calendar", async (page) => {
    await page.goto(`${base()}/h/calm-calendar#reminders`);
    await press(page, "Hacer una dirección");
    await page.getByText(/reminders\.ics\?key=invented&language=es$/).waitFor();
    assert.match(await page.getByRole("link", { name: "Abrir en el calendario" }).getAttribute("href"), /^webcal:.*&language=es$/);
  }, spanish));

  test("help is one tap away", reading("calm", async (page) => {
    await page.getByRole("link", { name: "Ahora algo va mal" }).click();
    await page.getByText("Mire a la persona.").waitFor();
  }, spanish));

  test("English is chosen in the page, and stays", reading("calm", async (page) => {
    await page.getByRole("link", { name: "Más" }).click();
    await page.getByText("Todavía sin revisar por una persona de lengua española.").waitFor();
    await choose(page, "English");
    await page.getByRole("heading", { name: "What to keep to" }).waitFor();
    assert.equal(await page.locator("html").getAttribute("lang"), "en");
    await page.goto(`${base()}/h/calm`);
    await stock(page).getByText("Cells in the house").waitFor();
  }, spanish));
});
