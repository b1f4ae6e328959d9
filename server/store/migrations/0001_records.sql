-- SPDX-License-Identifier: MIT
-- Households, and what happened in them. Nothing here is ever updated or deleted, except the counter of a
-- household's entries.

CREATE TABLE household (
  id INTEGER PRIMARY KEY,
  reference TEXT NOT NULL UNIQUE,
  document TEXT NOT NULL,                 -- JSON: zone, changing times, area, items
  created_at INTEGER NOT NULL,            -- seconds of UTC, as everywhere here
  last_entry INTEGER NOT NULL DEFAULT 0   -- number of the newest entry
) STRICT;

-- Readings are most of it, and are read a household at a time: clustered by household, so that one
-- household's entries lie together on disk.
CREATE TABLE entry (
  household_id INTEGER NOT NULL REFERENCES household (id),
  number INTEGER NOT NULL,                -- 1, 2, 3 ... within the household
  kind TEXT NOT NULL,
  at INTEGER NOT NULL,                    -- when it happened
  recorded_at INTEGER NOT NULL,           -- when it was stored
  who TEXT NOT NULL,                      -- a phone's label
  body TEXT NOT NULL,                     -- JSON as it was sent
  voids INTEGER,                          -- number of the entry that this one takes back
  PRIMARY KEY (household_id, number)
) STRICT, WITHOUT ROWID;

-- Which entry takes back which; one entry is taken back at most once.
CREATE TABLE voided (
  household_id INTEGER NOT NULL,
  number INTEGER NOT NULL,                -- the entry taken back
  voided_by INTEGER NOT NULL,
  PRIMARY KEY (household_id, number)
) STRICT, WITHOUT ROWID;

-- The keys of writes, so that one sent twice is stored once. Household 0 stands for the creation of
-- households; `number` is then the household's id.
CREATE TABLE idempotency (
  household_id INTEGER NOT NULL,
  key TEXT NOT NULL,
  number INTEGER NOT NULL,
  PRIMARY KEY (household_id, key)
) STRICT, WITHOUT ROWID;
