// SPDX-License-Identifier: MIT
// The codes that people bring: an invitation's link or code, a recovery code.
import { kept_in_tab } from "../state/kept";

/// 160 random bits in base64url are 27 letters; a screen's name after the # is shorter.
const shortest = 20;

export function invitation_code(text: string): string | null {
  const code = text.trim().split("#").pop() ?? "";
  return code.length >= shortest && /^[\w-]+$/.test(code) ? code : null;
}

/// Taken out of the address at once, so that it stays in no history; kept while this tab is open, for a reload.
export function take_invitation_code(): string | null {
  const code = invitation_code(window.location.hash);
  if (code) {
    kept_in_tab.set("invitation", code);
    window.history.replaceState(null, "", window.location.pathname);
  }
  return code ?? kept_in_tab.get<string>("invitation");
}

export const drop_invitation_code = (): void => kept_in_tab.set("invitation", null);

/// As typed from paper: the letters' case and what stands between groups do not matter to a reader.
export const is_of_a_household = (recovery_code: string): boolean => /^\s*h[-\s]/i.test(recovery_code);
