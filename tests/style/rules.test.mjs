// SPDX-License-Identifier: MIT
// Each rule of style is shown a small invented tree that breaks it, and one that does not: a rule that cannot object is none.
import assert from 'node:assert/strict';
import test from 'node:test';

import { readAsvs } from './asvs.mjs';
import * as directions from './directions.mjs';
import * as figures from './figures.mjs';
import * as house from './house.mjs';
import * as looks from './looks.mjs';
import { asFile } from './tree.mjs';
import * as words from './words.mjs';

/** Each pair of path and text that breaks the rule is named by it, and the text beside it, where given, is not. */
function objectsTo(rule, path, broken, sound) {
  const objections = rule([asFile(path, broken)]);
  assert.equal(objections.length, 1, `expected one objection to ${JSON.stringify(broken)}, got ${JSON.stringify(objections)}`);
  assert.ok(objections[0].includes(path), objections[0]);
  if (sound !== null) assert.deepEqual(rule([asFile(path, sound)]), []);
}

test('a model that looks at the server is found', () => {
  objectsTo(directions.wrongDirections, 'model/cell/fit.hpp', '#include "server/json/field.hpp"\n', '#include "model/quantities/time.hpp"\n');
});
test('a room of the model that looks at a later one is found', () => {
  objectsTo(directions.wrongDirections, 'model/duty/load.cpp', '#include "model/life/records.hpp"\n', '#include "model/cell/curve.hpp"\n');
});
test('a service that looks at HTTP or a store at the service is found', () => {
  objectsTo(directions.wrongDirections, 'server/service/a.cpp', '#include "server/http/listener.hpp"\n', '#include "server/store/store.hpp"\n');
  objectsTo(directions.wrongDirections, 'server/store/a.cpp', '#include "server/service/a.hpp"\n', '// #include "server/service/a.hpp"\n');
});
test('a file in a room that the house does not have is found', () => {
  objectsTo(directions.wrongDirections, 'server/helpers/a.cpp', 'int a;\n', null);
});
test('an include by a neighbour without its room is found', () => {
  objectsTo(directions.includesWithoutRoom, 'model/cell/fit.cpp', '#include "fit.hpp"\n', '#include "model/cell/fit.hpp"\n');
});
test('each piece of the world in the model is found', () => {
  const pieces = ['#include <fstream>', '#include <thread>', '#include <nlohmann/json.hpp>', '#include <spdlog/spdlog.h>', 'auto a = std::getenv("TZ");',
    'auto n = std::chrono::system_clock::now();', 'std::random_device device;', 'static int calls = 0;', '  static double last = 0;', 'inline int counter;'];
  for (const piece of pieces) {
    objectsTo(directions.worldInTheModel, 'model/life/a.cpp', `${piece}\n`, 'static constexpr int a = 1;\nstatic double twice(double x) { return 2 * x; }\n');
  }
});
test('SQL and sockets outside their room are found', () => {
  objectsTo(directions.librariesOutOfTheirRoom, 'server/api/a.cpp', '#include <SQLiteCpp/SQLiteCpp.h>\n', '#include <string>\n');
  objectsTo(directions.librariesOutOfTheirRoom, 'server/service/a.cpp', '#include <boost/asio.hpp>\n', '#include <boost/math/quadrature/gauss.hpp>\n');
});
test('a page that imports from outside and an HTTP test that includes the service are found', () => {
  objectsTo(directions.insidersAtTheDoor, 'web/src/a/page.tsx', "import x from '../../../server/a';\n", "import x from '../b';\n");
  objectsTo(directions.insidersAtTheDoor, 'tests/http/a.cpp', '#include "server/api/a.hpp"\n', '#include "tests/support/catch.hpp"\n');
});

test('a stranger at the top is found', () => {
  assert.deepEqual(house.strangersAtTheTop([asFile('notes/a.md', ''), asFile('.ci/run', ''), asFile('model/a.hpp', '')]), ['notes does not belong at the top']);
});
test('a long file is found and so are many fairly long ones', () => {
  const lines = (count) => 'int a;\n'.repeat(count);
  objectsTo((files) => house.tooLong([...files, ...Array.from({ length: 20 }, (_, i) => asFile(`model/${i}.cpp`, ''))]), 'model/a.cpp', lines(401), lines(400));
  objectsTo(house.tooLong, 'model/a.cpp', lines(251), lines(250));
});
test('a file without licence, with a path of one machine or with an open end is found', () => {
  objectsTo(house.withoutLicence, 'web/src/a.css', 'p {}\n', '/* SPDX-License-Identifier: MIT */\np {}\n');
  objectsTo(house.machinePaths, 'server/a.cpp', 'open("/home/someone/data");\n', 'open("/api/v1/home");\n');
  objectsTo(house.openEnds, 'model/a.cpp', '// TODO later\n', '// later\n');
});
test('a flag that has numbers reckoned loosely is found, in whichever file', () => {
  for (const flag of ['-ffast-math', '-Ofast', '-funsafe-math-optimizations', '-fassociative-math', '-ffinite-math-only']) {
    objectsTo(house.looseArithmeticOf, 'CMakeLists.txt', `add_compile_options(${flag})\n`, 'add_compile_options(-O2 -fno-omit-frame-pointer)\n');
  }
  objectsTo(house.looseArithmeticOf, 'model/life/a.cpp', '#pragma GCC optimize("fast-math")\n', '[[gnu::target("avx2")]] double fast(double x);\n');
});
test('a README whose command or link is not there is found', () => {
  const scripts = ['demo/run', 'tests/run'].map((path) => asFile(path, '#!/usr/bin/env bash\n', true));
  const readme = (block) => asFile('README.md', `\`\`\`\n${block}\n\`\`\`\n`);
  assert.deepEqual(house.commandsNotThere([...scripts, readme('demo/run\ntests/run')]), []);
  assert.equal(house.commandsNotThere([...scripts, readme('demo/run')]).length, 1);
  assert.equal(house.commandsNotThere([...scripts, readme('demo/run\ntests/run\ndemo/other')]).length, 1);
  assert.equal(house.commandsNotThere([scripts[0], asFile('tests/run', ''), readme('demo/run\ntests/run')]).length, 1);
  objectsTo((files) => house.deadLinks(files, () => false), 'README.md', '[a](DEVELOPERS.md)\n', '[a](README.md) [b](https://example.org)\n');
});

test('a promise in a page, an answer or a label is found', () => {
  objectsTo(words.promises, 'web/src/a.tsx', 'const a = "Your cells are safe tonight";\n', 'const a = response.ok ? "Expected to last tonight." : "";\n');
  objectsTo(words.promises, 'web/src/a.tsx', 'return <p>All good here</p>;\n', 'return <p className="good-figures">Expected</p>;\n');
  objectsTo(words.promises, 'web/src/a.tsx', 'return <button>OK</button>;\n', '// OK\nreturn <button>Send</button>;\n');
  objectsTo(words.promises, 'server/api/a.cpp', 'text = "The side is OK.";\n', 'text = "The side is expected to last.";\n');
  objectsTo(words.drawnBatteries, 'web/src/a.css', '.battery-level {}\n', '.window {}\n');
});

test('a row of simulated faults that the program does not print is found', () => {
  const program = asFile('tests/bench/faults/fault_figures.cpp', 'return {at_least("a \\"b\\"", 0.7, x),\n nine_in_ten("c", y)};\n');
  const readme = (row) => `| fault | to reach | found | |\n|---|---|---|---|\n| a "b" | 1 | 2 | met |\n| ${row} | 1 | 2 | met |\n\nMore.\n`;
  objectsTo((files) => figures.faultTableOfReadme([...files, program]), 'README.md', readme('d'), readme('c'));
});
test('a row of the field trial that the program does not print is found', () => {
  const programs = [asFile('tests/bench/report/verdicts.cpp', 'rows.push_back({"a \\"b\\"", "at most 1", x});\nrows.push_back(\n      {"c", "", y});\n'),
    asFile('tests/bench/real_cells_report.cpp', 'rows.push_back({"d", "at most 2", z});\n')];
  const readme = (row) => `| what | to reach | found | beside it |\n|---|---|---|---|\n| a "b" | 1 | 2 | |\n| ${row} | | 2 | |\n| d | 2 | 2 | |\n\nMore.\n`;
  objectsTo((files) => figures.trialTableOfReadme([...files, ...programs]), 'README.md', readme('e'), readme('c'));
});
test('a figure without a source and a test that cannot fail are found', () => {
  objectsTo(figures.withoutSource, 'data/cells/a.json', '{"source": {"title": "t"}}', '{"source": {"title": "t", "basis": "memory"}}');
  objectsTo(figures.withoutSource, 'data/stimulators/a.json', '{"id": "a", "cutoff_V": 1.9}', '{"basis": "invented", "cutoff_V": 1.9}');
  objectsTo(figures.withoutSource, 'data/reference/a.json', '{"a": {"source": "s", "b": 1}, "c": {"d": [2]}}', '{"a": {"source": "s", "b": [1]}}');
  objectsTo(figures.testsThatCannotFail, 'tests/model/a.cpp', 'CHECK(true);\n', 'CHECK(true_north() == 1);\n');
  objectsTo(figures.testsThatCannotFail, 'tests/web/a.test.mjs', "test.skip('a b c', f);\n", "test('a b c', f);\n");
  objectsTo(figures.testsWithoutSentence, 'tests/model/a.cpp', 'TEST_CASE("a b c") { run(); }\n', 'TEST_CASE("a b c") { CHECK(run() == 1); }\n');
  objectsTo(figures.testsWithoutSentence, 'tests/model/a.cpp', 'TEST_CASE("fit") { CHECK(run() == 1); }\n', 'TEST_CASE("the fit runs") { CHECK(run() == 1); }\n');
});
test('a requirement that is missing or twice, a word that is no verdict, and a test that is not there are found', () => {
  const read = (...rows) => readAsvs(rows.map((row) => `| ${row} |\n`).join(''), ['tests/a.cpp'], 2).objections;
  assert.deepEqual(read('V1.1.1-2 | met | `tests/a.cpp`'), []);
  assert.deepEqual(read('V1.1.1 | met | read'), ['1 requirements instead of 2']);
  assert.deepEqual(read('V1.1.1-2 | met | read', 'V1.1.2 | partly | read'), ['V1.1.2 comes twice']);
  assert.deepEqual(read('V1.1.1-2 | fine | read'), ['V1.1.1-2: "fine" is no verdict']);
  assert.deepEqual(read('V1.1.1-2 | met | `tests/b.cpp`'), ['V1.1.1-2 names tests/b.cpp, which is not there']);
});

test('a colour, a size or a style of its own in a page is found', () => {
  for (const broken of ["const a = '#a3211b';", "const a = '15px sans-serif';", 'const a = `0 ${b} 2rem`;', "const a = 'rgb(1 2 3)';", 'const a = <p style={b}>c</p>;']) {
    objectsTo(looks.looksInPages, 'web/src/parts/a.tsx', `${broken}\n`, 'const a = <a href="#more" class="big">{`${size_px}`}</a>; // 12px\n');
  }
});
test('a colour in a style file that is no token is found', () => {
  for (const broken of ['p { color: #a3211b; }', 'p { color: red; }', 'p { background: rgb(1 2 3); }', 'p { border: 0 solid CanvasText; }']) objectsTo(looks.coloursOutsideTokens, 'web/src/look.css', `${broken}\n`, ':root {\n  --ink: #a3211b;\n}\np { color: var(--ink); }\n');
  objectsTo(looks.coloursOutsideTokens, 'web/src/bench/a.css', '  --ink: #a3211b;\n', 'p { color: var(--ink); }\n');
});
test('a size or a space in a style file that is no token is found, and a token that nothing uses', () => {
  const named = 'p { margin: 0 var(--space-2); width: 100%; flex: 1 1 0; grid-template-columns: 2fr 1fr; line-height: 1.25; }\n@media (min-width: var(--room-640)) { p { order: 2; } }\n';
  for (const broken of ['p { margin: 2px; }', 'p { margin: -0.5rem; }', 'p { width: 50%; }', 'p { height: calc(100% - 3vh); }', '@media (min-width: 40rem) {', 'p { --own: 2em; }', '@page { margin: 14mm; }']) {
    objectsTo(looks.sizesOutsideTokens, 'web/src/bench/a.css', `${broken}\n`, named);
  }
  objectsTo(looks.sizesOutsideTokens, 'web/src/look.css', 'p { margin: 2px; }\n', ':root {\n  --space-2: 0.125rem; --line-1: 1px;\n}\n');
  objectsTo(looks.tokensWithoutUse, 'web/src/look.css', ':root { --space-2: 0.125rem; --space-20: 1rem; } p { margin: var(--space-20); }\n', ':root { --space-2: 0.125rem; } p { margin: var(--space-2); }\n');
});
