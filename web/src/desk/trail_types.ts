// SPDX-License-Identifier: MIT
// What the service tells of the agency's audit trail.

export interface TrailLink {
  number: number;
  /// Its record is gone; the two hashes are all that is left of it.
  erased: boolean;
  content_hash: string;
  hash: string;
  at: string | null;
  /// An account; null: the service itself, or a command on its machine.
  who: string | null;
  action: string | null;
  subject: string | null;
  household: string | null;
}

export interface TrailPart {
  links: TrailLink[];
  next: string | null;
}

/// With the first part alone, for which the whole chain is computed anew.
export interface TrailStands extends TrailPart {
  whole: boolean;
  first_break: string | null;
}

export interface StaffAccount {
  account: string;
  label: string;
  role: string;
}
