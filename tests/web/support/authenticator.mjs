// SPDX-License-Identifier: MIT
// An authenticator that stands in the device and always says that its owner is there.

export async function authenticator(page) {
  const devtools = await page.context().newCDPSession(page);
  await devtools.send("WebAuthn.enable");
  const options = { protocol: "ctap2", ctap2Version: "ctap2_1", transport: "internal", hasResidentKey: true, hasUserVerification: true, isUserVerified: true, automaticPresenceSimulation: true };
  const { authenticatorId } = await devtools.send("WebAuthn.addVirtualAuthenticator", { options });
  return { credentials: async () => (await devtools.send("WebAuthn.getCredentials", { authenticatorId })).credentials };
}
