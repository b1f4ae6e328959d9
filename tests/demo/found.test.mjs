// SPDX-License-Identifier: MIT
// What the technician's review finds in the invented agency is what its stories say (demo/agency_scheme.mjs), by their
// right names: the drifting unit as a unit, and no lot but the bad one.
import assert from 'node:assert/strict';
import test from 'node:test';
import { setTimeout as pause } from 'node:timers/promises';

import { bad_lot, drifting_serial, stories } from '../../demo/agency_scheme.mjs';
import { access_services } from '../web/support/access_services.mjs';

// As many as hold one story of each kind that the review finds.
const homes = Math.max(stories.drifting_unit[1], stories.always_early[0]) + 1;
const always_early = `demo-${String(stories.always_early[0] + 2).padStart(4, '0')}`;
const service_of = access_services.find((one) => one.name === 'the service');

test('the drifting unit, the bad lot and the home that always changes early are found, and no other lot', { skip: !service_of, timeout: 600_000 }, async () => {
  const service = await service_of.start({ homes });
  try {
    let found = await service.ask('GET', '/findings?state=open');
    for (; !found.fresh || !found.findings.length; found = await service.ask('GET', '/findings?state=open')) await pause(1000);
    const of = (kind) => found.findings.filter((one) => one.kind === kind);
    assert.ok(of('unit_eats_cells').some((one) => one.subject === drifting_serial && one.named === 'unit'), JSON.stringify(found.findings));
    assert.deepEqual(of('bad_lot').map((one) => one.subject), [bad_lot]);
    assert.ok(of('changes_too_early').some((one) => one.household === always_early), JSON.stringify(found.findings));
  } finally {
    await service.stop();
  }
});
