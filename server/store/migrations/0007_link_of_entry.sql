-- SPDX-License-Identifier: MIT
-- Each entry names the link of its agency's chain that stands for it, so that erasing finds its record. Until now an
-- index did, of all records by household: it cost every write a page of its own. What is left of that index are the
-- records that stand for no entry: the household itself, and what was done with it.

ALTER TABLE entry ADD COLUMN link INTEGER;

UPDATE entry SET link = r.number FROM chain_record r WHERE r.household_id = entry.household_id AND r.entry = entry.number;

DROP INDEX chain_record_household;
CREATE INDEX chain_record_household ON chain_record (household_id)
  WHERE household_id IS NOT NULL AND coalesce(entry, 0) = 0;
