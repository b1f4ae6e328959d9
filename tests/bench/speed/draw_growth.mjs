// SPDX-License-Identifier: MIT
// Draws growth.svg from what `tests/bench/speed/run --only growth --json` printed, in one run or several:
//   node tests/bench/speed/draw_growth.mjs SPEED.json... > tests/bench/speed/growth.svg
import { readFileSync } from 'node:fs';
import { growthPicture } from './growth_picture.mjs';

process.stdout.write(growthPicture(process.argv.slice(2).map((file) => JSON.parse(readFileSync(file, 'utf8')))));
