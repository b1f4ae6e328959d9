// SPDX-License-Identifier: MIT
// The stand-in's routes of signing in, invitations and phones. Null: the route is another's.

export function answer_access(access, request, path, body, base) {
  const { method } = request;
  const is = (wanted, at) => method === wanted && path === at;
  const who = access.who(request);
  if (is("POST", "/invitations/accept")) return access.accept(body);
  if (is("POST", "/passkeys")) return access.keep_passkey(body, who);
  if (is("POST", "/sign-in/options")) return { status: 200, body: { challenge_id: "c", options: { challenge: access.challenge(), rpId: "localhost", userVerification: "preferred" } } };
  if (is("POST", "/sign-in")) return access.use_passkey(body);
  if (is("POST", "/sign-in/recovery")) return access.use_code(body);
  const ours = /^\/(session|invitations|passkeys|accounts)\b/.test(path) || /^\/households\/[^/]+\/(phones|recovery-code)\b/.test(path);
  if (!ours) return null;
  if (!who) return { status: 401, body: { type: "/problems/not-signed-in", title: "Sign in first.", status: 401 } };
  if (is("POST", "/passkeys/options")) return { status: 200, body: { passkey_options: access.creation_options(who) } };
  if (is("GET", "/session")) return { status: 200, body: access.document(who) };
  if (is("DELETE", "/session")) {
    access.end(who.account);
    return { status: 204, body: null };
  }
  if (is("POST", "/invitations")) return { status: 201, body: access.invite(body, base) };
  if (is("GET", "/invitations")) return { status: 200, body: { invitations: [...access.invitations.values()].map(({ code: _code, link: _link, ...open }) => open) } };
  const [, id] = /^\/invitations\/([\w-]+)$/.exec(path) ?? [];
  if (id) {
    for (const [code, one] of access.invitations) if (one.invitation === id) access.invitations.delete(code);
    return { status: 204, body: null };
  }
  if (is("GET", "/accounts")) return { status: 200, body: { accounts: [...access.accounts.values()].filter((one) => !one.household) } };
  const [, ended] = /^\/accounts\/([\w-]+)$/.exec(path) ?? [];
  if (ended) {
    access.end(ended);
    return { status: 204, body: null };
  }
  const [, household, what, account] = /^\/households\/([^/]+)\/(phones|recovery-code)(?:\/([\w-]+))?$/.exec(path) ?? [];
  if (what === "recovery-code") return access.seal(household);
  if (method === "DELETE") {
    access.end(account);
    return { status: 204, body: null };
  }
  return { status: 200, body: { phones: access.phones(household, who) } };
}
