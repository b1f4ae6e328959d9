-- SPDX-License-Identifier: MIT
-- One chain of hashes per agency over everything that is stored and everything that is done (server/store/chain.hpp).
-- A link is never changed and never deleted; what it stands for is in chain_record, and goes with its household.

CREATE TABLE chain_link (
  agency TEXT NOT NULL,
  number INTEGER NOT NULL,                -- 1, 2, 3 ... within the agency
  content_hash BLOB NOT NULL,             -- of salt and content
  hash BLOB NOT NULL,                     -- of this link and the hash of the one before it
  PRIMARY KEY (agency, number)
) STRICT, WITHOUT ROWID;

CREATE TABLE chain_record (
  agency TEXT NOT NULL,
  number INTEGER NOT NULL,                -- of its link
  at INTEGER NOT NULL,                    -- when it was stored
  who TEXT NOT NULL,                      -- account; empty: the service itself, or before there were accounts
  action TEXT NOT NULL,
  subject TEXT NOT NULL,
  content TEXT,                           -- none: the content is the row of the entry or of the household
  household_id INTEGER,                   -- with which it is erased; none: of the agency
  entry INTEGER,                          -- number of the entry, 0 for the household itself, none for an event
  salt BLOB NOT NULL,
  PRIMARY KEY (agency, number)
) STRICT, WITHOUT ROWID;

CREATE INDEX chain_record_household ON chain_record (household_id) WHERE household_id IS NOT NULL;

-- For "was anything recorded later than now?", which a clock that was set back makes true.
CREATE INDEX entry_recorded_at ON entry (recorded_at);

-- The part of an agency's stock ledger that erased households leave behind: quantities, no household.
CREATE TABLE erased_stock (
  agency TEXT NOT NULL,
  item TEXT NOT NULL,
  lot TEXT NOT NULL,                      -- empty: not known
  received INTEGER NOT NULL,
  used INTEGER NOT NULL,
  discarded INTEGER NOT NULL,
  unaccounted INTEGER NOT NULL,           -- books less counts; below nought where more was found than booked
  left_behind INTEGER NOT NULL,           -- was in the home when it was erased
  PRIMARY KEY (agency, item, lot)
) STRICT, WITHOUT ROWID;
