// SPDX-License-Identifier: MIT
// The invented household's cupboard: lots come, cells go into sides, someone counts.
import { day_ms } from './calendar.mjs';
import { chance } from './chance.mjs';

const byExpiry = (a, b) => (a.expires < b.expires ? -1 : a.expires > b.expires ? 1 : a.lot < b.lot ? -1 : 1);

/** Gives every change its cells from the cupboard, first expired first out, and answers what came and was counted. */
export function keepStock(story, changes) {
  const luck = chance(story.seed + 77);
  const lots = [];
  const deliveries = [];
  let number = 0;
  const receive = (at, quantity, place) => {
    number += 1;
    const year = new Date(at).getUTCFullYear() + 7;
    const month = String(1 + Math.floor(luck.between(0, 12))).padStart(2, '0');
    const line = { item: 'cells', lot: `INV-${String(number).padStart(2, '0')}`, quantity, expires: `${year}-${month}`, place };
    lots.push({ ...line, came: at });
    deliveries.push({ at, ...line });
  };

  receive(story.begins - day_ms, 48, 'hall cupboard');
  for (const change of changes) {
    const held = lots.reduce((sum, lot) => sum + lot.quantity, 0); // what is on its way too
    const usable = lots.filter((lot) => lot.came <= change.at && lot.quantity >= story.cellsInSeries).sort(byExpiry);
    const lot = usable[0];
    change.cells = { profile: story.cellProfile, lot: lot.lot, expires: lot.expires, place: lot.place, age: 'fresh' };
    lot.quantity -= story.cellsInSeries;
    if (held <= story.reorderAt) receive(change.at + 3 * day_ms, story.packs, 'hall cupboard');
  }
  finishInThreeLots(story, lots, receive);
  const came = (one) => one.came < story.ends && one.quantity > 0;
  return { deliveries: deliveries.filter((one) => one.at < story.ends), lots: lots.filter(came).map(({ came: when, ...line }) => line) };
}

/** Three lots stand there at the end: what is left, a later delivery, and a small one in the school bag. */
function finishInThreeLots(story, lots, receive) {
  const standing = () => lots.filter((lot) => lot.quantity > 0 && lot.came < story.ends);
  if (standing().length < 2) receive(story.ends - 16 * day_ms, 24, 'hall cupboard');
  if (standing().length < 3) receive(story.ends - 9 * day_ms, 8, 'school bag');
}
