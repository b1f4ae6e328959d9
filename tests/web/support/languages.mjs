// SPDX-License-Identifier: MIT
// Two languages that nobody speaks. One is 40 % longer than English, with letters that are higher: it comes through the
// catalogue as Spanish does, in its place, so that a sentence which the catalogue does not have stays English and is not found.
// The other is read from the right. A journey written in English is made in each of them: what it looks for is told in the
// language, and what it reads is told back.
//   CELLARER_TEST_LANGUAGE=longer node --test tests/web/undo.test.mjs     (or: from_the_right)
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const words_of_the_pages = fileURLToPath(new URL("../../../web/src/words/", import.meta.url));
const dist = fileURLToPath(new URL("../../../web/dist/", import.meta.url));
const read = (path) => JSON.parse(readFileSync(`${words_of_the_pages}${path}`, "utf8"));

/// Letter by letter, so that a sentence is told as its parts are: what stands in a gap, and what a test names of it.
const letters = { a: "aâ", e: "eê", i: "iî", o: "oô", u: "uû", l: "ll", r: "rr", t: "tt" };
const longer_letter = (letter) => (letters[letter.toLowerCase()] ? letter + letters[letter.toLowerCase()].slice(1) : letter);

/// What people gave a name, and what the unit and the agency call their own: no language has another word for it.
const names = /hall cupboard|school bag|Night nurse|Kitchen phone|New York|\bu-\d/;
const but_for = (names, tell) => (text) => text.split(new RegExp(`(${names.source})`)).map((part, index) => (index % 2 ? part : tell(part))).join("");

const longer = but_for(names, (text) => text.replace(/\p{L}/gu, longer_letter));
const doubled = new RegExp(Object.values(letters).join("|"), "gi");
const shorter = but_for(names, (text) => text.replace(doubled, ([first]) => first));
/// An expression finds in the longer language what it finds in English: escapes and classes stand as they are.
const longer_source = but_for(names, (source) => source.replace(/\\w\{\d\}/g, "\\S+").replace(/\\.|\[[^\]]*\]|\p{L}/gu, (part) => (part.length === 1 && longer_letter(part) !== part ? `(?:${longer_letter(part)})` : part)));
const longer_expression = ({ source, flags }) => new RegExp(longer_source(source), flags);

const in_message = but_for(/\{\w+\}/, longer);
const told = (message) => (typeof message === "string" ? in_message(message) : Object.fromEntries(Object.entries(message).map(([form, text]) => [form, in_message(text)])));

function catalogue() {
  const sections = readdirSync(`${words_of_the_pages}catalogue/en`).map((file) => [file.replace(".json", ""), Object.fromEntries(Object.entries(read(`catalogue/en/${file}`)).map(([key, message]) => [key, told(message)]))]);
  const phrases = Object.entries(read("phrases.json")).flatMap(([code, { words, limit }]) => [[`${code}.words`, told(words)], [`${code}.limit`, told(limit)]]);
  return { ...Object.fromEntries(sections), phrases: Object.fromEntries(phrases) };
}

/// What a test looks for and what it reads, by the phone it does so on.
const tellers = new WeakMap();
const at = (place) => tellers.get((place.page?.() ?? place).context());
const looked_for = (teller, said) => (typeof said === "string" ? teller.to(said) : said instanceof RegExp ? longer_expression(said) : said);
let taught = false;

function teach(page) {
  if (taught) return;
  taught = true;
  const [of_page, of_locator] = [page, page.locator("html")].map((one) => Object.getPrototypeOf(one));
  const instead = (whose, name, made) => {
    const own = whose[name];
    whose[name] = function (...all) { return at(this) ? made.call(this, at(this), (...others) => own.apply(this, others), ...all) : own.apply(this, all); };
  };
  for (const whose of [of_page, of_locator]) {
    for (const name of ["getByText", "getByLabel"]) instead(whose, name, (teller, own, said, options) => own(looked_for(teller, said), options));
    instead(whose, "getByRole", (teller, own, role, options) => own(role, options && { ...options, name: looked_for(teller, options.name) }));
  }
  instead(of_locator, "filter", (teller, own, options) => own({ ...options, ...(options.hasText && { hasText: looked_for(teller, options.hasText) }) }));
  for (const name of ["textContent", "innerText"]) instead(of_locator, name, async (teller, own) => teller.back(await own()));
  for (const name of ["allTextContents", "allInnerTexts"]) instead(of_locator, name, async (teller, own) => (await own()).map(teller.back));
}

async function speak_longer(context) {
  const file = readdirSync(dist).find((name) => /^es-\w+\.js$/.test(name));
  const body = `export { told_document, told_problem } from "/${file}?spanish"; export const catalogue = ${JSON.stringify(catalogue())}; export const grammar = { decimal_sign: ".", sides: { left: "${longer("left")}", right: "${longer("right")}" }, joined: (_, words) => words };`;
  await context.route(`**/${file}`, (route) => route.fulfill({ contentType: "text/javascript", body }));
  tellers.set(context, { to: longer, back: shorter });
  const new_page = context.newPage.bind(context);
  context.newPage = async () => {
    const page = await new_page();
    teach(page);
    return page;
  };
}

const speak_from_the_right = (context) => context.addInitScript(() => addEventListener("DOMContentLoaded", () => (document.documentElement.dir = "rtl")));

/// `options` of the phone that speaks it, and what makes it do so.
export const languages = {
  longer: { what: "40 % longer", options: { locale: "es-ES" }, speak: speak_longer },
  from_the_right: { what: "from the right", options: {}, speak: speak_from_the_right },
};


/// The language of this run of the tests, where one is asked for.
export const language_of_the_run = languages[process.env.CELLARER_TEST_LANGUAGE];
