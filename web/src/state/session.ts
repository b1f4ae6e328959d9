// SPDX-License-Identifier: MIT
// What the one who is signed in may do. The service refuses what is not allowed; the pages only leave it out.
import type { Session } from "../api/access";

export function may(session: Session | null, permission: string): boolean {
  return session?.permissions?.includes(permission) ?? false;
}

/// Until it is known who is signed in nothing is hidden.
export function may_perhaps(session: Session | null, permission: string): boolean {
  return session === null || may(session, permission);
}
