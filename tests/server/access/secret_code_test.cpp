// SPDX-License-Identifier: MIT
#include "server/access/secret_code.hpp"

#include <set>

#include "tests/support/catch.hpp"

using namespace cellarer;
using access::check_value;
using access::read_secret_code;

namespace {

constexpr const char* alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

std::string as_typed(const access::SecretCode& code) { return std::string(1, code.kind) + code.letters; }

}  // namespace

TEST_CASE("the check letter is Crockford's") {
  // D. Crockford, "Base 32": the number modulo 37. 1234 is written 16J and checked by D (the example of the Python
  // package base32-crockford); 37 and its multiples leave nothing.
  CHECK(check_value("16J") == std::string(alphabet).find('D'));
  CHECK(check_value("15") == 0);
  CHECK(check_value("0") == 0);
  CHECK(check_value("14") == 36);
}

TEST_CASE("a drawn code is printed in four groups and read again however it is typed") {
  const auto code = access::draw_secret_code('H');
  const std::string paper = access::printed(code);
  REQUIRE(paper.size() == 25);
  CHECK(paper.substr(0, 2) == "H-");
  CHECK(paper.substr(2, 5) == code.selector);
  std::string small = paper, spaced = paper, long_dashes;
  for (char& letter : small) letter = static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
  for (char& letter : spaced) letter = letter == '-' ? ' ' : letter;
  for (const char letter : paper) long_dashes += letter == '-' ? std::string("\u2013") : std::string(1, letter);
  for (const std::string& typed : {paper, small, spaced, long_dashes, " " + as_typed(code) + " "}) {
    CAPTURE(typed);
    const auto read = read_secret_code(typed);
    REQUIRE(read);
    CHECK(read->kind == 'H');
    CHECK(read->letters == code.letters);
    CHECK(read->selector == code.selector);
  }
}

TEST_CASE("letters that look like figures are read as figures") {
  // Crockford's table of decoding symbols: O o are 0; I i L l are 1.
  for (int i = 0; i < 1000; ++i) {
    const auto code = access::draw_secret_code('S');
    std::string typed = as_typed(code);
    bool changed = false;
    for (char& letter : typed) {
      if (letter == '0') letter = 'o', changed = true;
      if (letter == '1') letter = i % 2 == 0 ? 'I' : 'l', changed = true;
    }
    if (!changed) continue;
    REQUIRE(read_secret_code(typed));
    CHECK(read_secret_code(typed)->letters == code.letters);
    return;
  }
  FAIL("no code in a thousand held a 0 or a 1");
}

TEST_CASE("every single wrong letter and every exchange of neighbours is found") {
  // What a prime modulus larger than the base finds: see the header. Every case of one code is tried.
  const std::string paper = as_typed(access::draw_secret_code('H'));
  int tried = 0;
  for (std::size_t place = 1; place < paper.size(); ++place) {
    for (const char* other = alphabet; *other != '\0'; ++other) {
      std::string typed = paper;
      if (typed[place] == *other) continue;
      typed[place] = *other;
      CHECK_FALSE(read_secret_code(typed));
      ++tried;
    }
    if (place + 1 == paper.size() || paper[place] == paper[place + 1]) continue;
    std::string typed = paper;
    std::swap(typed[place], typed[place + 1]);
    CHECK_FALSE(read_secret_code(typed));
  }
  CHECK(tried == 20 * 31);
}

TEST_CASE("what is no code is refused before any hash is tried") {
  for (const char* typed :
       {"", "H", "H-00000-00000-00000-0000", "H-00000-00000-00000-000000", "H-U0000-00000-00000-00000",
        "0-00000-00000-00000-00000", "H-00000-00000-00000-0000*", "H_00000_00000_00000_00000"}) {
    CAPTURE(typed);
    CHECK_FALSE(read_secret_code(typed));
  }
  CHECK(read_secret_code("H-00000-00000-00000-00000"));
  CHECK_FALSE(read_secret_code(std::string(1000, ' ') + "H-00000-00000-00000-00000"));
}

TEST_CASE("codes are drawn from the whole alphabet and never come twice") {
  std::set<std::string> seen;
  std::set<char> letters;
  for (int i = 0; i < 500; ++i) {
    const auto code = access::draw_secret_code('S');
    seen.insert(code.letters);
    letters.insert(code.letters.begin(), code.letters.end());
  }
  CHECK(seen.size() == 500);
  CHECK(letters.size() == 32);
}
