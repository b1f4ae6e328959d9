// SPDX-License-Identifier: MIT
// Who is signed in, with which phones, by which invitations: the documents and the calls.
import { get, household_path, send_once, type Answer } from "./client";

export type Role = "household" | "guest" | "planner" | "technician" | "administrator" | "operator";

/// By the household's clock.
export interface Hours {
  from: string;
  to: string;
}

export interface Session {
  role: Role;
  label: string;
  agency?: string | null;
  household?: string | null;
  account: string;
  until?: string | null;
  hours?: Hours | null;
  permissions?: string[];
  /// When a sealed recovery code of this household was used.
  recovery_used_at?: string | null;
  /// Printed once.
  recovery_codes?: string[];
}

export interface Phone {
  account: string;
  label: string;
  role: Role;
  since: string;
  last_seen?: string | null;
  this_phone?: boolean;
  hours?: Hours | null;
  until?: string | null;
}

export interface Invitation {
  invitation: string;
  role: Role;
  label?: string | null;
  household?: string | null;
  expires_at: string;
}

export interface Invited extends Invitation {
  link: string;
  code: string;
  /// Rows of a square code, "1" for a dark module, without the margin.
  qr: string[];
}

export interface Invite {
  role: Role;
  label: string;
  household?: string;
  hours?: Hours;
  until?: string;
}

/// A phone is signed in at once; staff make a passkey first.
export type Accepted = Session | { passkey_options: PublicKeyCredentialCreationOptionsJSON };

export interface SignInOptions {
  challenge_id: string;
  options: PublicKeyCredentialRequestOptionsJSON;
}

export const ask_session = (): Promise<Answer<Session>> => get<Session>("/session");
export const sign_out = (): Promise<Answer<null>> => send_once("DELETE", "/session");

export const accept_invitation = (code: string, label: string): Promise<Answer<Accepted>> =>
  send_once("POST", "/invitations/accept", label ? { code, label } : { code });
export const keep_passkey = (code: string | null, credential: unknown): Promise<Answer<Session>> =>
  send_once("POST", "/passkeys", code === null ? { credential } : { code, credential });
export const further_passkey_options = (): Promise<Answer<{ passkey_options: PublicKeyCredentialCreationOptionsJSON }>> =>
  send_once("POST", "/passkeys/options", {});
export const sign_in_options = (): Promise<Answer<SignInOptions>> => send_once("POST", "/sign-in/options", {});
export const sign_in = (challenge_id: string, credential: unknown): Promise<Answer<Session>> =>
  send_once("POST", "/sign-in", { challenge_id, credential });
export const sign_in_by_code = (code: string): Promise<Answer<Session>> => send_once("POST", "/sign-in/recovery", { code });

export const invite = (body: Invite): Promise<Answer<Invited>> => send_once("POST", "/invitations", body);
export const open_invitations = (): Promise<Answer<{ invitations: Invitation[] }>> => get("/invitations");
export const take_invitation_back = (id: string): Promise<Answer<null>> => send_once("DELETE", `/invitations/${encodeURIComponent(id)}`);

export const phones_of = (household: string): Promise<Answer<{ phones: Phone[] }>> => get(`${household_path(household)}/phones`);
export const end_phone = (household: string, account: string): Promise<Answer<null>> =>
  send_once("DELETE", `${household_path(household)}/phones/${encodeURIComponent(account)}`);
export const make_sealed_code = (household: string): Promise<Answer<{ code: string }>> =>
  send_once("POST", `${household_path(household)}/recovery-code`, {});

export const people = (): Promise<Answer<{ accounts: Phone[] }>> => get("/accounts");
export const end_account = (account: string): Promise<Answer<null>> => send_once("DELETE", `/accounts/${encodeURIComponent(account)}`);
