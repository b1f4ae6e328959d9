// SPDX-License-Identifier: MIT
// The rules of style, held against the project as it stands.
import assert from 'node:assert/strict';
import { existsSync } from 'node:fs';
import test from 'node:test';

import * as directions from './directions.mjs';
import * as figures from './figures.mjs';
import * as house from './house.mjs';
import * as looks from './looks.mjs';
import { readAsvs } from './asvs.mjs';
import { readTree, root } from './tree.mjs';
import * as words from './words.mjs';

const files = readTree();
const holds = (objections) => assert.ok(objections.length === 0, objections.join('\n'));

test('the tree has rooms and tests to look at', () => {
  for (const folder of ['model/', 'server/', 'web/', 'data/', 'demo/', 'tests/']) {
    assert.ok(files.some((file) => file.path.startsWith(folder)), `${folder} is empty`);
  }
});

test('includes follow the directions of the house', () => holds(directions.wrongDirections(files)));
test('every include names its room', () => holds(directions.includesWithoutRoom(files)));
test('the model touches no file, socket, clock, environment, thread, global, JSON, SQL or log', () => holds(directions.worldInTheModel(files)));
test('libraries that touch the world stay in their room', () => holds(directions.librariesOutOfTheirRoom(files)));
test('pages and black-box tests know the service from outside alone', () => holds(directions.insidersAtTheDoor(files)));

test('nothing stands at the top that the design does not name', () => holds(house.strangersAtTheTop(files)));
test('no code file is over 400 lines and nine in ten are at most 250', () => holds(house.tooLong(files)));
test('every code file names its licence', () => holds(house.withoutLicence(files)));
test('no committed file names a path of one machine', () => holds(house.machinePaths(files)));
test('no flag has numbers reckoned otherwise than they are written', () => holds(house.looseArithmeticOf(files)));
test('nothing in the code is left open', () => holds(house.openEnds(files)));
test('the two commands of the README are scripts that stand there', () => holds(house.commandsNotThere(files)));
test('every relative link of the documents leads somewhere', () => holds(house.deadLinks(files, existsSync, root)));

test('no sentence that a person reads promises anything', () => holds(words.promises(files)));
test('no colour, size or spacing stands outside the style files', () => holds(looks.looksInPages(files)));
test('the style files take their colours from the tokens', () => holds(looks.coloursOutsideTokens(files)));
test('the style files take their sizes and spaces from the tokens', () => holds(looks.sizesOutsideTokens(files)));
test('each token of the look is used', () => holds(looks.tokensWithoutUse(files)));
test('no page draws a battery', () => holds(words.drawnBatteries(files)));

test('README has the rows of simulated faults that the program prints', () => holds(figures.faultTableOfReadme(files)));
test('README has the rows of the field trial that the program prints', () => holds(figures.trialTableOfReadme(files)));
test('every data file says where its numbers come from', () => holds(figures.withoutSource(files)));
test('no test is sure to pass and none is set aside', () => holds(figures.testsThatCannotFail(files)));
test('every test asserts something under a name that is a sentence', () => holds(figures.testsWithoutSentence(files)));
test('the table of ASVS says something of each requirement and names what is there', () => {
  const table = files.find((file) => file.path === 'server/access/asvs.md');
  const { counts, objections } = readAsvs(table.text, files.map((file) => file.path));
  holds(objections);
  assert.ok(table.text.includes(Object.entries(counts).map(([verdict, count]) => `${verdict} ${count}`).join(', ')), JSON.stringify(counts));
});
