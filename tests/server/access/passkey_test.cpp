// SPDX-License-Identifier: MIT
#include "server/access/passkey.hpp"

#include <functional>

#include "server/access/secrets.hpp"
#include "tests/support/authenticator.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using access::Passkey;
using Json = nlohmann::json;
using tests::Authenticator;

namespace {

const access::RelyingParty us{"homes.example", "https://homes.example"};
const access::PasskeyUser planner{"AAECAwQFBgcICQoLDA0ODw", "planner at the desk"};

/// A service and one authenticator, with a passkey made or not yet.
struct Ceremony {
  explicit Ceremony(Authenticator::Algorithm algorithm = Authenticator::Algorithm::es256)
      : device(us.origin, algorithm) {}

  Passkey register_one(const std::function<void(Json&)>& spoil = nullptr) {
    const std::string challenge = access::random_token();
    Json answer = device.make(access::creation_options(us, planner, challenge));
    if (spoil) spoil(answer);
    stored = access::check_registration(us, challenge, {answer, "/credential"});
    return stored;
  }
  Passkey sign_in(const std::function<void(Json&)>& spoil = nullptr) {
    const std::string challenge = access::random_token();
    Json answer = device.answer(access::request_options(us, challenge));
    if (spoil) spoil(answer);
    return access::check_assertion(us, challenge, stored, planner.account, {answer, "/credential"});
  }

  Authenticator device;
  Passkey stored;
};

/// The code of a PasskeyRefused, or code and place of what the reader of JSON refused.
template <class Act>
std::string refusal(const Act& act) {
  try {
    act();
  } catch (const access::PasskeyRefused& error) {
    return error.code();
  } catch (const json::Refused& error) {
    return error.code() + " " + error.place();
  }
  return "taken";
}

using Spoil = std::function<void(Authenticator&)>;

/// What a registration, and a sign-in after a right registration, answer where the device does this.
std::string registration_refused(const Spoil& spoil) {
  Ceremony one;
  spoil(one.device);
  return refusal([&] { one.register_one(); });
}
std::string sign_in_refused(const Spoil& spoil) {
  Ceremony one;
  one.register_one();
  spoil(one.device);
  return refusal([&] { one.sign_in(); });
}

}  // namespace

TEST_CASE("a passkey of either algorithm is registered and signs in") {
  for (const auto algorithm : {Authenticator::Algorithm::es256, Authenticator::Algorithm::ed25519}) {
    Ceremony one(algorithm);
    one.device.flags = 0x1d;  // present, verified, may be copied, has been
    const Passkey made = one.register_one();
    CHECK(made.credential_id == one.device.credential_id);
    CHECK(made.user_verified);
    CHECK(made.backed_up);
    one.device.flags = 0x09;  // present, may be copied
    const Passkey after = one.sign_in();
    CHECK_FALSE(after.user_verified);
    CHECK_FALSE(after.backed_up);
    CHECK(after.backup_eligible);
    CHECK(after.cose_key == made.cose_key);
  }
}

TEST_CASE("the options say what WebAuthn's dictionaries want") {
  Passkey present;
  present.credential_id = "abc";
  const Json made = access::creation_options(us, planner, "challenge", {present});
  // WebAuthn 5.4: required members rp.name, user.id, name, displayName, challenge, pubKeyCredParams.
  CHECK(made["rp"] == Json{{"id", "homes.example"}, {"name", "Cellarer"}});
  CHECK(made["user"]["id"] == planner.account);
  CHECK(made["user"]["displayName"] == planner.label);
  CHECK(made["challenge"] == "challenge");
  CHECK(made["pubKeyCredParams"] == Json::parse(R"([{"type":"public-key","alg":-8},{"type":"public-key","alg":-7}])"));
  CHECK(made["excludeCredentials"] == Json::parse(R"([{"type":"public-key","id":"YWJj"}])"));
  CHECK(made["authenticatorSelection"]["residentKey"] == "required");
  CHECK(made["attestation"] == "none");
  const Json asked = access::request_options(us, "challenge");
  CHECK(asked["rpId"] == "homes.example");
  CHECK(asked["allowCredentials"] == Json::array());
}

TEST_CASE("an answer to another question, page or site is refused") {
  for (const auto refused : {registration_refused, sign_in_refused}) {
    CHECK(refused([](Authenticator&) {}) == "taken");
    CHECK(refused([](Authenticator& one) { one.challenge_in_place_of_the_options = access::random_token(); }) ==
          "wrong-challenge");
    CHECK(refused([](Authenticator& one) { one.challenge_in_place_of_the_options = "no base64url!"; }) ==
          "wrong-challenge");
    CHECK(refused([](Authenticator& one) { one.origin = "https://homes.example.evil.example"; }) == "wrong-origin");
    CHECK(refused([](Authenticator& one) { one.origin = "http://homes.example"; }) == "wrong-origin");
    CHECK(refused([](Authenticator& one) { one.origin = "https://homes.example:8443"; }) == "wrong-origin");
    CHECK(refused([](Authenticator& one) { one.in_a_frame = true; }) == "cross-origin");
    CHECK(refused([](Authenticator& one) { one.rp_id_in_place_of_the_options = "example"; }) == "wrong-site");
    CHECK(refused([](Authenticator& one) { one.flags = 0x04; }) == "no-one-present");
    CHECK(refused([](Authenticator& one) { one.flags = 0x15; }) == "backup-state");
  }
  CHECK(registration_refused([](Authenticator& one) { one.type_in_place_of_the_right_one = "webauthn.get"; }) ==
        "wrong-type");
  CHECK(sign_in_refused([](Authenticator& one) { one.type_in_place_of_the_right_one = "webauthn.create"; }) ==
        "wrong-type");
}

TEST_CASE("a counter that does not go forward shows a copied key") {
  // WebAuthn 7.2, step 22: nonzero on either side, and not greater than the stored one.
  Ceremony one;
  one.device.sign_count = 7;
  one.register_one();
  one.device.sign_count = 8;
  one.stored = one.sign_in();
  CHECK(one.stored.sign_count == 8);
  CHECK(refusal([&] { one.sign_in(); }) == "counter-went-back");
  one.device.sign_count = 3;
  CHECK(refusal([&] { one.sign_in(); }) == "counter-went-back");
  one.device.sign_count = 0;
  CHECK(refusal([&] { one.sign_in(); }) == "counter-went-back");
  one.device.sign_count = 0xFFFFFFFF;
  CHECK(one.sign_in().sign_count == 0xFFFFFFFF);
}

TEST_CASE("a passkey answers for its own account and its own key alone") {
  CHECK(sign_in_refused([](Authenticator& one) { one.user_handle = "AAECAwQFBgcICQoLDA0OEA"; }) == "other-account");
  CHECK(sign_in_refused([](Authenticator& one) { one.credential_id = std::string(16, 'd'); }) == "other-passkey");
  CHECK(sign_in_refused([](Authenticator& one) { one.flags = 0x0d; }) == "backup-state");
  Ceremony one, other;
  one.register_one();
  other.register_one();
  one.stored.cose_key = other.stored.cose_key;
  CHECK(refusal([&] { one.sign_in(); }) == "wrong-signature");
}

TEST_CASE("extensions are passed over, and what follows them is not") {
  const auto with = [](const char* extensions, std::size_t size) {
    return [extensions, size](Authenticator& one) {
      one.flags = 0x85;
      one.extensions = std::string(extensions, size);
    };
  };
  for (const auto refused : {registration_refused, sign_in_refused}) {
    CHECK(refused(with("\xa1\x6b"
                       "credProtect\x02",
                       14)) == "taken");
    CHECK(refused(with("\xa0\x00", 2)) == "malformed");
    CHECK(refused(with("\x80", 1)) == "malformed");
    CHECK(refused(with("", 0)) == "malformed");
    CHECK(refused([](Authenticator& one) {
            one.extensions =
                "\xa1\x61"
                "aa";
          }) == "malformed");  // without its flag
  }
}

TEST_CASE("an answer without its parts is refused with their place") {
  const auto registration = [](const std::function<void(Json&)>& spoil) {
    Ceremony one;
    return refusal([&] { one.register_one(spoil); });
  };
  const auto sign_in = [](const std::function<void(Json&)>& spoil) {
    Ceremony one;
    one.register_one();
    return refusal([&] { one.sign_in(spoil); });
  };
  CHECK(registration([](Json& answer) { answer.erase("response"); }) == "missing /credential/response");
  CHECK(registration([](Json& answer) { answer["type"] = "password"; }).find("/credential/type") != std::string::npos);
  CHECK(registration([](Json& answer) { answer["rawId"] = "YWJj"; }) == "out-of-range /credential/rawId");
  CHECK(registration([](Json& answer) { answer["id"] = answer["rawId"] = "YWJj"; }) == "other-passkey");
  CHECK(registration([](Json& answer) { answer["response"].erase("attestationObject"); }) ==
        "missing /credential/response/attestationObject");
  CHECK(registration([](Json& answer) { answer["response"]["attestationObject"] = "a+b/"; }) ==
        "not-base64url /credential/response/attestationObject");
  CHECK(registration([](Json& answer) { answer["response"]["attestationObject"] = std::string(20'000, 'A'); }) ==
        "too-long /credential/response/attestationObject");
  CHECK(registration([](Json& answer) { answer["response"]["clientDataJSON"] = "e30"; }) == "malformed");  // {}
  CHECK(registration([](Json& answer) { answer["response"]["clientDataJSON"] = "bm8"; }) == "malformed");  // no
  CHECK(sign_in([](Json& answer) { answer["response"].erase("userHandle"); }) ==
        "missing /credential/response/userHandle");
  CHECK(sign_in([](Json& answer) { answer["response"]["signature"] = "AAAA"; }) == "wrong-signature");
  CHECK(sign_in([](Json& answer) { answer["response"]["authenticatorData"] = "AAAA"; }) == "malformed");
  CHECK(sign_in([](Json& answer) { answer = Json::array(); }) == "wrong-type /credential");
}

TEST_CASE("an attestation object of another form is refused") {
  const auto with = [](std::string object) {
    Ceremony one;
    return refusal([&] {
      one.register_one([&](Json& answer) { answer["response"]["attestationObject"] = access::base64url(object); });
    });
  };
  CHECK(with("\xa0") == "malformed");
  CHECK(with("\xf6") == "malformed");
  CHECK(with("").find("/credential/response/attestationObject") != std::string::npos);
  CHECK(with("\xa3\x63"
             "fmt\x64none\x67"
             "attStmt\xa0\x68"
             "authData\x40") == "malformed");
  CHECK(with("\xa3\x63"
             "fmt\x64none\x67"
             "attStmt\xa1\x61"
             "a\x01\x68"
             "authData\x40") == "malformed");
  CHECK(with("\xa3\x63"
             "fmt\x01\x67"
             "attStmt\xa0\x68"
             "authData\x40") == "malformed");
}

TEST_CASE("a credential id has up to 1023 bytes") {
  // WebAuthn 4, "credential ID".
  CHECK(registration_refused([](Authenticator& one) { one.credential_id = std::string(1023, 'c'); }) == "taken");
  CHECK(registration_refused([](Authenticator& one) { one.credential_id = std::string(1024, 'c'); }) == "malformed");
}
