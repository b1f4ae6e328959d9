// SPDX-License-Identifier: MIT
#include "server/access/webauthn_key.hpp"

#include "server/access/passkey.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/hex.hpp"

using namespace cellarer;
using access::KeyAlgorithm;
using access::PublicKey;
using access::signature_fits;
using tests::from_hex;

namespace {

/// ECDSA's (r, s) as DER: a SEQUENCE of two INTEGERs, each in two's complement without superfluous zeros.
std::string der(const char* r, const char* s) {
  const auto integer = [](const char* digits) {
    std::string bytes = from_hex(digits);
    while (bytes.size() > 1 && bytes[0] == 0 && (bytes[1] & 0x80) == 0) bytes.erase(0, 1);
    if ((bytes[0] & 0x80) != 0) bytes.insert(0, 1, '\0');
    return std::string("\x02") + static_cast<char>(bytes.size()) + bytes;
  };
  const std::string both = integer(r) + integer(s);
  return std::string("\x30") + static_cast<char>(both.size()) + both;
}

struct Ed25519Case {
  const char* key;
  const char* message;
  const char* signature;
};

// RFC 6979, appendix A.2.5: the public key of ECDSA on P-256.
const char* const p256_x = "60fed4ba255a9d31c961eb74c6356d68c049b8923b61fa6ce669622e60f29fb6";
const char* const p256_y = "7903fe1008b8bc99a41ae9e95628bc64f2f1b20c2d7e9f5177a3c294d4462299";

std::string refusal_of_key(const std::string& cose) {
  try {
    access::read_public_key(access::cbor::read(cose));
  } catch (const access::PasskeyRefused& error) {
    return error.code();
  }
  return "taken";
}

/// {1: 2, 3: -7, -1: 1, -2: x, -3: y}
std::string p256_cose(const std::string& x, const std::string& y) {
  return from_hex("a5010203262001215820") + x + from_hex("225820") + y;
}

}  // namespace

TEST_CASE("ES256 verifies the signatures of RFC 6979") {
  const PublicKey key{KeyAlgorithm::es256, from_hex(p256_x), from_hex(p256_y)};
  // A.2.5, with SHA-256.
  const std::string sample = der("efd48b2aacb6a8fd1140dd9cd45e81d69d2c877b56aaf991c34d0ea84eaf3716",
                                 "f7cb1c942d657c41d436c7a1b6e29f65f3e900dbb9aff4064dc4ab2f843acda8");
  const std::string test = der("f1abb023518351cd71d881567b1ea663ed3efcf6c5132b354f28d3b0b7d38367",
                               "019f4113742a2b14bd25926b49c649155f267e60d3814b4c0cc84250e46f0083");
  CHECK(signature_fits(key, "sample", sample));
  CHECK(signature_fits(key, "test", test));
  CHECK_FALSE(signature_fits(key, "test", sample));
  CHECK_FALSE(signature_fits(key, "Sample", sample));
}

TEST_CASE("ES256 takes no signature of another form") {
  const PublicKey key{KeyAlgorithm::es256, from_hex(p256_x), from_hex(p256_y)};
  const std::string r = "efd48b2aacb6a8fd1140dd9cd45e81d69d2c877b56aaf991c34d0ea84eaf3716";
  const std::string s = "f7cb1c942d657c41d436c7a1b6e29f65f3e900dbb9aff4064dc4ab2f843acda8";
  const std::string right = der(r.c_str(), s.c_str());
  CHECK_FALSE(signature_fits(key, "sample", ""));
  CHECK_FALSE(signature_fits(key, "sample", from_hex(r + s)));  // as JOSE writes it
  CHECK_FALSE(signature_fits(key, "sample", right + '\0'));
  CHECK_FALSE(signature_fits(key, "sample", right.substr(0, right.size() - 1)));
  CHECK_FALSE(signature_fits(key, "sample", der("00", "00")));  // r and s are 1 at least (FIPS 186-5, 6.4.2)
  CHECK_FALSE(signature_fits(key, "sample", der("00", s.c_str())));
  for (std::size_t place = 0; place < right.size(); ++place) {
    std::string wrong = right;
    wrong[place] = static_cast<char>(wrong[place] ^ 1);
    CAPTURE(place);
    CHECK_FALSE(signature_fits(key, "sample", wrong));
  }
}

TEST_CASE("Ed25519 verifies the signatures of RFC 8032") {
  // Section 7.1, tests 1 to 3.
  const Ed25519Case cases[] = {{"d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", "",
                                "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39"
                                "701cf9b46bd25bf5f0595bbe2465514143"
                                "8e7a100b"},
                               {"3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "72",
                                "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f36"
                                "13d0f11d8c387b2eaeb4302aeeb00d2916"
                                "12bb0c00"},
                               {"fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025", "af82",
                                "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f7"
                                "60984dc6594a7c15e9716ed28dc027bece"
                                "ea1ec40a"}};
  for (const auto& one : cases) {
    CAPTURE(one.message);
    const PublicKey key{KeyAlgorithm::ed25519, from_hex(one.key), ""};
    const std::string signature = from_hex(one.signature);
    CHECK(signature_fits(key, from_hex(one.message), signature));
    CHECK_FALSE(signature_fits(key, from_hex(one.message) + "x", signature));
    CHECK_FALSE(signature_fits(key, from_hex(one.message), signature.substr(1)));
  }
}

TEST_CASE("a key is read from COSE, or refused with its reason") {
  const std::string x = from_hex(p256_x), y = from_hex(p256_y);
  CHECK(access::read_public_key(access::cbor::read(p256_cose(x, y))).y == y);
  // RFC 8032's first key as OKP: {1: 1, 3: -8, -1: 6, -2: x}
  const std::string okp = from_hex(
      "a4010103272006215820"
      "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a");
  CHECK(access::read_public_key(access::cbor::read(okp)).algorithm == KeyAlgorithm::ed25519);

  std::string off_curve = y;
  off_curve.back() = static_cast<char>(off_curve.back() ^ 1);
  CHECK(refusal_of_key(p256_cose(x, off_curve)) == "malformed-key");
  CHECK(refusal_of_key(p256_cose(std::string(32, '\0'), std::string(32, '\0'))) == "malformed-key");
  CHECK(refusal_of_key(from_hex("a5010203262001214102") + from_hex("225820") + y) == "malformed-key");
  CHECK(refusal_of_key(from_hex("a4010203262001215820") + x) == "malformed-key");                     // y missing
  CHECK(refusal_of_key(from_hex("a5010203262001215820") + x + from_hex("22f5")) == "malformed-key");  // y compressed
  CHECK(refusal_of_key(from_hex("a501020338222002215820") + x + from_hex("225820") + y) == "unsupported-key");  // ES384
  CHECK(refusal_of_key(from_hex("a5010203262002215820") + x + from_hex("225820") + y) == "unsupported-key");    // P-384
  CHECK(refusal_of_key(from_hex("a401030339010020430102032143010001")) == "unsupported-key");                   // RSA
  CHECK(refusal_of_key(from_hex("a0")) == "unsupported-key");
  CHECK(refusal_of_key(from_hex("80")) == "unsupported-key");
}
