// SPDX-License-Identifier: MIT
// JSON as text: the octets that nlohmann's dump() writes.
#include "server/json/writer.hpp"

#include <cmath>
#include <limits>
#include <random>

#include "tests/support/catch.hpp"

using namespace cellarer;

namespace {

template <class Value>
std::string written(const Value& value) {
  json::Writer writer;
  writer.value(value);
  return writer.take();
}

}  // namespace

TEST_CASE("numbers are written as nlohmann's library writes them", "[json]") {
  std::vector<double> numbers{0,      -0.0, 1,   0.1, 0.30000000000000004, 1e-5, 1e-4, 123456789012345, 1e15, 1.5e300,
                              5e-324, 1e22, 100, -2.5};
  std::mt19937_64 random(7);
  for (int i = 0; i < 2000; ++i) numbers.push_back(std::ldexp(static_cast<double>(random() >> 11), -53 - i % 60));
  for (const double number : numbers) CHECK(written(number) == nlohmann::ordered_json(number).dump());
  CHECK(written(std::numeric_limits<double>::infinity()) == "null");
  CHECK(written(std::numeric_limits<double>::quiet_NaN()) == "null");
  CHECK(written(std::int64_t{-9007199254740993}) == "-9007199254740993");
  CHECK(written(std::numeric_limits<std::uint64_t>::max()) == "18446744073709551615");
}

TEST_CASE("texts are escaped as nlohmann's library escapes them, and refused where they are not UTF-8", "[json]") {
  for (const char* text : {"", "plain", "a \"quoted\" \\ word", "tab\tand\nline", "\x01\x1f\x7f",
                           "K\xc3\xbc"
                           "che"})
    CHECK(written(text) == nlohmann::ordered_json(text).dump());
  CHECK_THROWS_AS(written("K\xfc"
                          "che"),
                  nlohmann::ordered_json::type_error);
}

TEST_CASE("a document is written member by member with its commas", "[json]") {
  json::Writer writer;
  writer.object([&] {
    writer.member("none", nullptr);
    writer.member("lot", std::optional<std::string>("B7"));
    writer.member("no lot", std::optional<std::string>());
    writer.object("empty", [] {});
    writer.array("nights", [&] {
      for (const bool tonight : {true, false}) writer.object([&] { writer.member("tonight", tonight); });
      writer.value(3);
    });
    writer.member("because", std::vector<std::string>{"one", "two"});
    writer.member("as a tree", nlohmann::ordered_json{{"z", 1}, {"a", nlohmann::ordered_json::array()}});
    writer.member("last", "word");
  });
  CHECK(writer.take() ==
        R"({"none":null,"lot":"B7","no lot":null,"empty":{},"nights":[{"tonight":true},{"tonight":false},3],)"
        R"("because":["one","two"],"as a tree":{"z":1,"a":[]},"last":"word"})");
}
