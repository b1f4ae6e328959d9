// SPDX-License-Identifier: MIT
// What a passkey sends: CBOR, COSE, the authenticator's data, the browser's, and both answers whole. The first byte
// chooses.
#include "server/access/cbor.hpp"
#include "server/access/passkey.hpp"
#include "server/access/secrets.hpp"
#include "server/access/webauthn_data.hpp"
#include "server/access/webauthn_key.hpp"
#include "tests/fuzz/fuzz.hpp"

using namespace cellarer;

namespace {

const access::RelyingParty us{"example.org", "https://example.org"};
const std::string account = "AAECAwQFBgcICQoLDA0ODw";

std::string challenge() { return access::base64url(std::string(32, '\x11')); }

/// A clientDataJSON that passes, so that what comes after it is reached.
std::string client_data(const char* type) {
  const nlohmann::json right = {{"type", type}, {"challenge", challenge()}, {"origin", us.origin}};
  return access::base64url(right.dump());
}

nlohmann::json answer_with(const std::string& id, nlohmann::json response) {
  return {{"id", id}, {"rawId", id}, {"type", "public-key"}, {"response", std::move(response)}};
}

void an_item(std::string_view bytes) {
  std::string_view rest = bytes;
  const auto first = access::cbor::read_first(rest);
  fuzz::must(rest.size() < bytes.size());
  fuzz::must(access::cbor::read(bytes.substr(0, bytes.size() - rest.size())) == first);
}

void a_key(std::string_view bytes) {
  const auto key = access::read_public_key(access::cbor::read(bytes));
  fuzz::must(!access::signature_fits(key, "message", bytes));
}

void authenticator_data(std::string_view bytes) {
  const auto data = access::read_authenticator_data(bytes);
  fuzz::must(data.rp_id_hash.size() == 32 && (data.backup_eligible || !data.backed_up));
}

void client_data_of(std::string_view bytes) {
  access::check_client_data(bytes, "webauthn.get", std::string(32, '\x11'), us.origin);
}

/// An attestation object within an otherwise right answer. Nobody can guess the hash of the id: id of its own.
void registration(std::string_view bytes) {
  const auto answer = answer_with(
      "Y2NjYw", {{"clientDataJSON", client_data("webauthn.create")}, {"attestationObject", access::base64url(bytes)}});
  const auto passkey = access::check_registration(us, challenge(), {answer, ""});
  fuzz::must(passkey.credential_id == "cccc");
}

/// A whole answer of a stranger.
void answer(std::string_view bytes) {
  const auto document = json::parse(bytes);
  const json::Field credential(document, "");
  access::Passkey stored;
  stored.credential_id = access::credential_id_of(credential);
  access::check_assertion(us, challenge(), stored, account, credential);
  fuzz::must(false);  // it has no key, so nothing can fit
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string_view bytes = fuzz::as_text(data, size);
  using Read = void (*)(std::string_view);
  const Read readers[] = {an_item, a_key, authenticator_data, client_data_of, registration, answer};
  try {
    readers[fuzz::choose(bytes, std::size(readers))](bytes);
  } catch (const access::cbor::Malformed&) {
  } catch (const access::PasskeyRefused&) {
  } catch (const json::Refused&) {
  }
  return 0;
}
