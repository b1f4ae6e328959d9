// SPDX-License-Identifier: MIT
#include "server/access/secrets.hpp"

#include <set>

#include "tests/support/catch.hpp"
#include "tests/support/hex.hpp"

using namespace cellarer;
using tests::from_hex;
using tests::hex;

namespace {

struct Base64Case {
  const char* bytes;
  const char* text;
};

}  // namespace

TEST_CASE("base64url writes and reads the examples of RFC 4648") {
  // Section 10, without its padding, and the three examples of section 9 with the letters of table 2.
  const Base64Case cases[] = {{"", ""},
                              {"66", "Zg"},
                              {"666f", "Zm8"},
                              {"666f6f", "Zm9v"},
                              {"666f6f62", "Zm9vYg"},
                              {"666f6f6261", "Zm9vYmE"},
                              {"666f6f626172", "Zm9vYmFy"},
                              {"14fb9c03d97e", "FPucA9l-"},
                              {"14fb9c03d9", "FPucA9k"},
                              {"14fb9c03", "FPucAw"}};
  for (const auto& one : cases) {
    CHECK(access::base64url(from_hex(one.bytes)) == one.text);
    const auto read = access::from_base64url(one.text);
    REQUIRE(read);
    CHECK(hex(*read) == one.bytes);
  }
}

TEST_CASE("base64url takes one way of writing and no other") {
  // RFC 4648: section 3.1 line ends, 3.2 padding, 3.3 letters outside the alphabet, 3.5 bits left over.
  for (const char* text : {"Zg==", "Zg=", "Zh", "Zm9=", "Zm9vYmF", "Z", "Zm9v\n", " Zm9v", "FPucA9l+", "FPucA9l/",
                           "Zm9v=", "Zm\xc3\xa9"}) {
    CAPTURE(text);
    CHECK_FALSE(access::from_base64url(text));
  }
  CHECK_FALSE(access::from_base64url(std::string_view("Zm9v\0", 5)));
}

TEST_CASE("SHA-256 gives the examples of FIPS 180") {
  // NIST, "Cryptographic Standards and Guidelines: Examples with Intermediate Values", SHA-256: one block and two.
  CHECK(hex(access::sha256("abc")) == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(hex(access::sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq")) ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
}

TEST_CASE("random tokens have the stated size and never come twice") {
  CHECK(access::random_token().size() == 43);
  CHECK(access::random_token(20).size() == 27);
  CHECK(access::random_token(16).size() == 22);
  std::set<std::string> seen;
  for (int i = 0; i < 1000; ++i) seen.insert(access::random_token());
  CHECK(seen.size() == 1000);
  REQUIRE(access::from_base64url(*seen.begin()));
  CHECK(access::from_base64url(*seen.begin())->size() == 32);
}

TEST_CASE("random bytes are set and cleared about evenly in every place") {
  // A binomial of 4000 draws at 1/2 lies within six of its standard deviations (31.6) but once in 5e8.
  int ones[8] = {};
  for (const char byte : access::random_bytes(4000)) {
    for (int bit = 0; bit < 8; ++bit) ones[bit] += (byte >> bit) & 1;
  }
  for (const int count : ones) {
    CHECK(count > 2000 - 190);
    CHECK(count < 2000 + 190);
  }
}

TEST_CASE("two secrets are the same only where every byte is") {
  CHECK(access::same_secret("", ""));
  CHECK(access::same_secret(std::string("a\0b", 3), std::string("a\0b", 3)));
  CHECK_FALSE(access::same_secret(std::string("a\0b", 3), std::string("a\0c", 3)));
  CHECK_FALSE(access::same_secret("ab", "abc"));
}
