// SPDX-License-Identifier: MIT
// The published ceremonies: W3C Web Authentication Level 3, section 16.
#include "server/access/passkey.hpp"
#include "tests/server/access/webauthn_vectors.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace tests::vectors;
using access::Passkey;

namespace {

const access::RelyingParty example{"example.org", "https://example.org"};
const std::string account = "dGhlIGFjY291bnQgaXRzZWxm";

Passkey registered(const Ceremony& one) {
  const auto document = registration_of(one);
  return access::check_registration(example, written(one.registration_challenge), {document, ""});
}

Passkey signed_in(const Ceremony& one, const Passkey& stored, const char* challenge) {
  const auto document = assertion_of(one, account);
  return access::check_assertion(example, written(challenge), stored, account, {document, ""});
}

template <class Act>
std::string refusal(const Act& act) {
  try {
    act();
  } catch (const access::PasskeyRefused& error) {
    return error.code();
  }
  return "taken";
}

}  // namespace

TEST_CASE("the specification's registrations and sign-ins are verified") {
  for (const Ceremony* one : {&none_es256, &self_es256, &packed_ed25519}) {
    CAPTURE(one->section);
    const Passkey stored = registered(*one);
    CHECK(tests::hex(stored.credential_id) == one->credential_id);
    CHECK(stored.sign_count == 0);
    const Passkey after = signed_in(*one, stored, one->assertion_challenge);
    CHECK(after.credential_id == stored.credential_id);
    CHECK(after.sign_count == 0);
  }
}

TEST_CASE("what the specification's authenticators say of themselves is kept") {
  // The bits UV, BE and BS that section 16 lists beside each: 16.2 flags 59 then 19, 16.3 5d then 09, 16.11 41 then 01.
  const Passkey none = registered(none_es256);
  CHECK_FALSE(none.user_verified);
  CHECK(none.backup_eligible);
  CHECK(none.backed_up);
  const Passkey self = registered(self_es256);
  CHECK(self.user_verified);
  CHECK(self.backup_eligible);
  CHECK(self.backed_up);
  const Passkey self_after = signed_in(self_es256, self, self_es256.assertion_challenge);
  CHECK_FALSE(self_after.user_verified);
  CHECK_FALSE(self_after.backed_up);
  const Passkey packed = registered(packed_ed25519);
  CHECK_FALSE(packed.user_verified);
  CHECK_FALSE(packed.backup_eligible);
}

TEST_CASE("a passkey made in another site's frame is refused") {
  CHECK(refusal([] { registered(cross_origin); }) == "cross-origin");
  CHECK(refusal([] { registered(top_origin); }) == "cross-origin");
}

TEST_CASE("a published answer belongs to its own challenge, key and bytes") {
  const Passkey stored = registered(none_es256);
  CHECK(refusal([&] { signed_in(none_es256, stored, none_es256.registration_challenge); }) == "wrong-challenge");
  CHECK(refusal([&] { signed_in(packed_ed25519, stored, packed_ed25519.assertion_challenge); }) == "other-passkey");
  Passkey with_another_key = stored;
  with_another_key.cose_key = registered(self_es256).cose_key;
  CHECK(refusal([&] { signed_in(none_es256, with_another_key, none_es256.assertion_challenge); }) == "wrong-signature");
}

TEST_CASE("a published registration is refused with any one bit of its key or id turned") {
  // Within authData the last 77 bytes are the COSE key; 34 before them the credential id and its length.
  const std::string object = tests::from_hex(none_es256.attestation_object);
  for (std::size_t from_end = 1; from_end <= 77 + 34; ++from_end) {
    std::string wrong = object;
    wrong[object.size() - from_end] = static_cast<char>(wrong[object.size() - from_end] ^ 1);
    auto document = registration_of(none_es256);
    document["response"]["attestationObject"] = access::base64url(wrong);
    CAPTURE(from_end);
    CHECK(refusal([&] {
            access::check_registration(example, written(none_es256.registration_challenge), {document, ""});
          }) != "taken");
  }
}
