// SPDX-License-Identifier: MIT
// One side's forecast, beside every breath integrated.
import { join } from 'node:path';
import { built, root, run } from '../programs.mjs';

export async function rows({ rounds }) {
  const found = JSON.parse(run(built('forecast_speed'), [join(root, 'data'), String(rounds)]));
  return [
    { what: 'one side, per added reading', ours: found.reading_us, unit: 'us', target: 'at most 50 us', met: found.reading_us <= 50 },
    { what: 'the same, with the risk of 90 nights', ours: found.reading_with_90_nights_us, unit: 'us' },
    { what: 'its whole forecast once more after one more reading, its set kept', ours: found.again_ms, unit: 'ms' },
    { what: `one side from scratch, ${found.readings} readings and ${found.nights} nights`, ours: found.scratch_ms, unit: 'ms', target: 'at most 1 ms', met: found.scratch_ms <= 1 },
    { what: 'a set used around the clock, 30 readings', ours: found.steady_scratch_ms, unit: 'ms', peer: found.cvode_ms, against: `CVODE, every breath (${found.cvode_ms_per_day.toFixed(0)} ms a day)`,
      ratio: found.times_as_fast, target: 'over 1 000 times as fast', met: found.times_as_fast > 1000 },
    { what: 'the end of that set', ours: found.model_hours, unit: 'h', peer: found.cvode_hours, against: 'CVODE', apart: found.end_apart_percent, target: 'within 0.1 %', met: found.end_apart_percent <= 0.1, runs: 1 },
  ];
}
