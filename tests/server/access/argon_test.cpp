// SPDX-License-Identifier: MIT
#include "server/access/argon.hpp"

#include "tests/support/catch.hpp"

using namespace cellarer;

namespace {

struct Published {
  const char* password;
  const char* hash;
  bool quick;  ///< at most 64 MiB and two passes
};

// The tests of Argon2's reference implementation (P-H-C/phc-winner-argon2, src/test.c, version 0x13, Argon2id), by the
// authors of RFC 9106. The RFC's own example in section 5.3 uses a key and associated data, which libsodium does not
// take.
const Published published[] = {
    {"password", "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc", true},
    {"password", "$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4", true},
    {"password", "$argon2id$v=19$m=256,t=2,p=2$c29tZXNhbHQ$bQk8UB/VmZZF4Oo79iDXuL5/0ttZwg2f/5U52iv1cDc", true},
    {"password", "$argon2id$v=19$m=65536,t=1,p=1$c29tZXNhbHQ$9qWtwbpyPd3vm1rB1GThgPzZ3/ydHL92zKL+15XZypg", true},
    {"differentpassword", "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$C4TWUs9rDEvq7w3+J4umqA32aWKB1+DSiRuBfYxFj94",
     true},
    {"password", "$argon2id$v=19$m=65536,t=2,p=1$ZGlmZnNhbHQ$vfMrBczELrFdWP0ZsfhWsRPaHppYdP3MVEMIVlqoFBw", true},
    {"password", "$argon2id$v=19$m=65536,t=4,p=1$c29tZXNhbHQ$kCXUjmjvc5XMqQedpMTsOv+zyJEf5PhtGiUghW9jFyw", false},
    {"password", "$argon2id$v=19$m=262144,t=2,p=1$c29tZXNhbHQ$eP4eyR+zqlZX1y5xCFTkw9m5GYx0L5YWwvCFvtlbLow", false}};

void verifies(const Published& one) {
  CAPTURE(one.hash);
  CHECK(access::verify_typed_code(one.password, one.hash));
  CHECK_FALSE(access::verify_typed_code(std::string(one.password) + "x", one.hash));
}

}  // namespace

TEST_CASE("Argon2id verifies the hashes of its reference implementation") {
  for (const auto& one : published) {
    if (one.quick) verifies(one);
  }
}

TEST_CASE("Argon2id verifies the large hashes of its reference implementation", "[.long][long]") {
  for (const auto& one : published) {
    if (!one.quick) verifies(one);
  }
}

TEST_CASE("a typed code is hashed at the stated cost, with its own salt, and only it verifies") {
  const std::string first = access::hash_typed_code("7K3MX9QW2RHT8VD4NPCZ");
  const std::string second = access::hash_typed_code("7K3MX9QW2RHT8VD4NPCZ");
  CHECK(first.rfind("$argon2id$v=19$m=19456,t=2,p=1$", 0) == 0);
  CHECK(first != second);
  CHECK(access::verify_typed_code("7K3MX9QW2RHT8VD4NPCZ", first));
  CHECK_FALSE(access::verify_typed_code("7K3MX9QW2RHT8VD4NPCY", first));
  CHECK_FALSE(access::verify_typed_code("", first));
}

TEST_CASE("the hash of one cost still verifies when new hashes cost more") {
  CHECK(access::verify_typed_code("code", access::hash_typed_code("code", {64, 1})));
}

TEST_CASE("what is no hash of Argon2id verifies nothing") {
  for (const char* stored : {"", "code", "$argon2id$", "$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$",
                             "$argon2id$v=16$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4",
                             "$argon2i$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4"}) {
    CAPTURE(stored);
    CHECK_FALSE(access::verify_typed_code("password", stored));
  }
  CHECK_FALSE(access::verify_typed_code("password", std::string(1000, '$')));
}
