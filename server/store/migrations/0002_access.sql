-- SPDX-License-Identifier: MIT
-- Agencies, who may come in, and how. Secrets stand here as hashes only.

CREATE TABLE agency (
  reference TEXT PRIMARY KEY,
  created_at INTEGER NOT NULL             -- seconds of UTC, as everywhere here
) STRICT, WITHOUT ROWID;

INSERT INTO agency (reference, created_at) VALUES ('agency', unixepoch());

-- A household is known by its key, agency/reference. Those from before there were agencies belong to 'agency'; and one
-- agency's keys of idempotency are nothing to another.
UPDATE household SET reference = 'agency/' || reference;
UPDATE idempotency SET key = 'agency/' || key WHERE household_id = 0;

-- One phone, or one staff member's way in. It is there from the invitation on, and bound when that is accepted.
CREATE TABLE account (
  id TEXT PRIMARY KEY,                    -- base64url of 128 random bits
  agency TEXT NOT NULL,                   -- empty: the operator
  household TEXT NOT NULL,                -- key of a phone's household; empty: staff
  role TEXT NOT NULL,
  label TEXT NOT NULL,                    -- "Kitchen phone", never a name
  hours_from INTEGER, hours_to INTEGER,   -- a guest's, in minutes after midnight
  zone TEXT NOT NULL,                     -- the clock of those hours, an IANA name; empty where there are none
  until INTEGER,                          -- when a guest's time is over
  created_at INTEGER NOT NULL,
  bound_at INTEGER,
  recovery_used_at INTEGER,               -- when a recovery code last opened it
  ended_at INTEGER,
  ended_why TEXT NOT NULL DEFAULT ''
) STRICT, WITHOUT ROWID;
CREATE INDEX account_of_agency ON account (agency, household);

CREATE TABLE invitation (
  id TEXT PRIMARY KEY,
  code_hash BLOB NOT NULL UNIQUE,         -- SHA-256
  account TEXT NOT NULL REFERENCES account (id),
  invited_by TEXT NOT NULL,               -- account; empty: the command line
  without_passkey INTEGER NOT NULL,       -- for programs, and from the command line alone
  created_at INTEGER NOT NULL,
  expires_at INTEGER NOT NULL,
  used_at INTEGER                         -- accepted, or taken back
) STRICT, WITHOUT ROWID;
CREATE INDEX invitation_of_account ON invitation (account);

CREATE TABLE session (
  id TEXT PRIMARY KEY,
  account TEXT NOT NULL REFERENCES account (id),
  token_hash BLOB NOT NULL UNIQUE,        -- SHA-256
  previous_hash BLOB,                     -- of the token before; good until previous_until, or without end
  previous_until INTEGER,                 -- while its follower was never seen
  signed_in_at INTEGER NOT NULL,
  rotated_at INTEGER NOT NULL,
  last_seen_at INTEGER NOT NULL,
  expires_at INTEGER NOT NULL,
  ended_at INTEGER,
  ended_why TEXT NOT NULL DEFAULT '',
  changed INTEGER NOT NULL                -- value of access_version at the last change that a service must hear of
) STRICT, WITHOUT ROWID;
CREATE INDEX session_of_account ON session (account);
CREATE INDEX session_changed ON session (changed);

CREATE TABLE access_version (value INTEGER NOT NULL) STRICT;
INSERT INTO access_version (value) VALUES (0);

CREATE TABLE passkey (
  credential BLOB PRIMARY KEY,            -- the credential's id
  account TEXT NOT NULL REFERENCES account (id),
  cose_key BLOB NOT NULL,                 -- the public key, as COSE writes it
  sign_count INTEGER NOT NULL,
  user_verified INTEGER NOT NULL,         -- at the last use, by finger, face or PIN
  backup_eligible INTEGER NOT NULL,       -- may be on several devices
  backed_up INTEGER NOT NULL,
  created_at INTEGER NOT NULL,
  last_used_at INTEGER
) STRICT, WITHOUT ROWID;
CREATE INDEX passkey_of_account ON passkey (account);

-- What is printed, kept in a drawer, and typed.
CREATE TABLE recovery_code (
  selector TEXT PRIMARY KEY,              -- the first letters, by which the one hash to try is found
  hash TEXT NOT NULL,                     -- Argon2id of all letters
  account TEXT NOT NULL,                  -- a staff member's; empty: a household's sealed code
  household TEXT NOT NULL,                -- key; empty: staff
  created_at INTEGER NOT NULL,
  used_at INTEGER                         -- used, or replaced
) STRICT, WITHOUT ROWID;
CREATE INDEX recovery_code_of ON recovery_code (account, household);

-- What the service and `cellarer account`, two programs on one file, tell each other: "public_address".
CREATE TABLE note (
  name TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
