-- SPDX-License-Identifier: MIT
-- Reminders where people already look: calendars that are read by a secret address, and phones that are pushed to. None
-- of this is a record: rows change and go. All of a household's goes when it is erased.

-- A secret address. Of its key only the hash is kept; a new one takes the place of the one before.
CREATE TABLE feed (
  id TEXT PRIMARY KEY,                    -- base64url of 128 random bits
  token_hash BLOB NOT NULL UNIQUE,        -- SHA-256
  agency TEXT NOT NULL,
  household TEXT NOT NULL,                -- key; empty: of the agency
  purpose TEXT NOT NULL,                  -- "reminders"
  made_by TEXT NOT NULL,                  -- account
  created_at INTEGER NOT NULL,            -- seconds of UTC, as everywhere here
  read_at INTEGER,                        -- when a calendar last read it
  UNIQUE (agency, household, purpose)
) STRICT, WITHOUT ROWID;

-- When each event of a feed last stood, so that one that moves counts up (SEQUENCE of RFC 5545).
CREATE TABLE feed_event (
  feed TEXT NOT NULL,
  uid TEXT NOT NULL,
  at INTEGER NOT NULL,
  sequence INTEGER NOT NULL,
  PRIMARY KEY (feed, uid)
) STRICT, WITHOUT ROWID;

-- Where a phone's push service takes messages (RFC 8030), and the phone's key (RFC 8291). One for each phone; it ends
-- with the phone's account.
CREATE TABLE push_subscription (
  account TEXT PRIMARY KEY,
  household TEXT NOT NULL,                -- key
  endpoint TEXT NOT NULL,                 -- whoever has it may try to send: never logged, never given out
  public_key BLOB NOT NULL,               -- p256dh
  auth_secret BLOB NOT NULL,
  part TEXT NOT NULL,                     -- "first" or "second" caregiver
  created_at INTEGER NOT NULL,
  sent_at INTEGER,                        -- when its push service last took one
  confirmed_at INTEGER                    -- when the phone last said that it showed one
) STRICT, WITHOUT ROWID;
CREATE INDEX push_subscription_of ON push_subscription (household);

-- At most one a subject and time: one reminder, however often it is looked at.
CREATE TABLE reminder (
  id TEXT PRIMARY KEY,                    -- base64url of 128 random bits
  household TEXT NOT NULL,                -- key
  subject TEXT NOT NULL,                  -- "left", "right", "order:" and an item
  due INTEGER NOT NULL,                   -- the changing time, or the day
  raised_at INTEGER NOT NULL,
  seconded_at INTEGER,                    -- when the second caregiver was asked
  closed_at INTEGER,                      -- recorded, or no longer so
  UNIQUE (household, subject, due)
) STRICT, WITHOUT ROWID;

-- To whom it went, so that it can be taken away there.
CREATE TABLE reminder_phone (
  reminder TEXT NOT NULL,
  account TEXT NOT NULL,
  PRIMARY KEY (reminder, account)
) STRICT, WITHOUT ROWID;

-- What waits to be handed to a push service.
CREATE TABLE push_message (
  id INTEGER PRIMARY KEY,
  account TEXT NOT NULL,
  topic TEXT NOT NULL,                    -- a newer one of the same topic takes its place (RFC 8030, 5.4)
  payload TEXT NOT NULL,                  -- JSON
  urgent INTEGER NOT NULL,
  expires_at INTEGER NOT NULL,
  next_at INTEGER NOT NULL,
  attempts INTEGER NOT NULL DEFAULT 0
) STRICT;
CREATE INDEX push_message_next ON push_message (next_at);
