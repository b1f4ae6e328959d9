// SPDX-License-Identifier: MIT
// Passkeys: between the JSON of WebAuthn (level 3, section 5.1.8 and 5.1.9) and the bytes that the browser takes and
// gives. Browsers that know the conversions themselves are few enough still that they are done here.

type Json = Record<string, unknown>;

export function bytes_of(base64url: string): ArrayBuffer {
  const base64 = base64url.replace(/-/g, "+").replace(/_/g, "/");
  return Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0)).buffer;
}

export function base64url_of(bytes: ArrayBuffer): string {
  const letters = Array.from(new Uint8Array(bytes), (byte) => String.fromCharCode(byte)).join("");
  return btoa(letters).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
}

function descriptors(list: PublicKeyCredentialDescriptorJSON[] | undefined): PublicKeyCredentialDescriptor[] {
  return (list ?? []).map(({ id, transports }) => ({
    type: "public-key", id: bytes_of(id), ...(transports && { transports: transports as AuthenticatorTransport[] }),
  }));
}

export function creation_options(json: PublicKeyCredentialCreationOptionsJSON): PublicKeyCredentialCreationOptions {
  return {
    ...(json as unknown as PublicKeyCredentialCreationOptions),
    challenge: bytes_of(json.challenge), user: { ...json.user, id: bytes_of(json.user.id) }, excludeCredentials: descriptors(json.excludeCredentials),
  };
}

export function request_options(json: PublicKeyCredentialRequestOptionsJSON): PublicKeyCredentialRequestOptions {
  return {
    ...(json as unknown as PublicKeyCredentialRequestOptions), challenge: bytes_of(json.challenge), allowCredentials: descriptors(json.allowCredentials),
  };
}

function common(credential: PublicKeyCredential, response: Json): Json {
  const { id, rawId, type, authenticatorAttachment } = credential;
  return {
    id, rawId: base64url_of(rawId), type, response, clientExtensionResults: credential.getClientExtensionResults(),
    ...(authenticatorAttachment && { authenticatorAttachment }),
  };
}

function registration_json(credential: PublicKeyCredential): Json {
  const response = credential.response as AuthenticatorAttestationResponse;
  return common(credential, {
    clientDataJSON: base64url_of(response.clientDataJSON), attestationObject: base64url_of(response.attestationObject),
    transports: response.getTransports?.() ?? [],
  });
}

function assertion_json(credential: PublicKeyCredential): Json {
  const response = credential.response as AuthenticatorAssertionResponse;
  return common(credential, {
    clientDataJSON: base64url_of(response.clientDataJSON), authenticatorData: base64url_of(response.authenticatorData),
    signature: base64url_of(response.signature), userHandle: response.userHandle ? base64url_of(response.userHandle) : null,
  });
}

export const has_passkeys = (): boolean => typeof window.PublicKeyCredential === "function" && Boolean(navigator.credentials);

/// Null: the person left it, or this device has none for here. Which of the two, browsers do not tell.
async function asked_of_browser(ask: () => Promise<Credential | null>): Promise<PublicKeyCredential | null> {
  try {
    return (await ask()) as PublicKeyCredential | null;
  } catch {
    return null;
  }
}

export async function make_passkey(options: PublicKeyCredentialCreationOptionsJSON): Promise<Json | null> {
  const made = await asked_of_browser(() => navigator.credentials.create({ publicKey: creation_options(options) }));
  return made && registration_json(made);
}

export async function use_passkey(options: PublicKeyCredentialRequestOptionsJSON): Promise<Json | null> {
  const used = await asked_of_browser(() => navigator.credentials.get({ publicKey: request_options(options) }));
  return used && assertion_json(used);
}
