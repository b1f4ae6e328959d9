-- SPDX-License-Identifier: MIT
-- What an agency records of itself, and of no household: rounds, its own stock, recalls, approved words. The text of
-- each stands in chain_record (action 'agency.' and the kind), so that it is part of the trail like everything else.

CREATE TABLE agency_entry (
  agency TEXT NOT NULL,
  number INTEGER NOT NULL,                -- of its link in the chain
  kind TEXT NOT NULL,
  subject TEXT NOT NULL,                  -- what it is about: a round, a lot; empty: the agency
  key TEXT NOT NULL,                      -- of idempotency
  PRIMARY KEY (agency, number)
) STRICT, WITHOUT ROWID;

CREATE UNIQUE INDEX agency_entry_key ON agency_entry (agency, key);
CREATE INDEX agency_entry_subject ON agency_entry (agency, kind, subject, number);
