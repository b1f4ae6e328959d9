// SPDX-License-Identifier: MIT
// Documents as they are read, built member by member, against nlohmann's own way of building them.
#include <nlohmann/json.hpp>

#include "server/json/field.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;

TEST_CASE("a document is read as nlohmann's own parser reads it, kinds of numbers included", "[json]") {
  for (const std::string text : {
           R"({"at":"2026-03-01T21:30:00+01:00","side":"left","percent":62})",
           R"( { "b" : [ 1 , -2 , 0, 3.5, -0.25, 1e3, 2E-2, 1.5e+2 ] , "a" : { } , "c" : [ ] } )",
           R"({"b":1,"a":2,"c":{"z":null,"y":true,"x":false}})",
           R"([0,-0,0.0,-0.0,999999999999999999,-999999999999999999,1000000000000000000,18446744073709551615])",
           R"([18446744073709551616,-9223372036854775808,-9223372036854775809,123456789012345678901234567890.5])",
           R"([0.1,4.9406564584124654e-324,1e-400,1.7976931348623157e308,2.2250738585072014e-308])",
           R"({"text":"a\n\u00e9","who":"Žofie","empty":"","":"no name"})",
           R"("alone")",
           "17",
           "true",
           "\r\n\t null \n",
           "\xEF\xBB\xBF{\"marked\":1}",
       }) {
    CAPTURE(text);
    const auto read = json::parse(text), expected = nlohmann::json::parse(text);
    CHECK(read == expected);
    CHECK(read.flatten().dump() == expected.flatten().dump());
    // Kinds of numbers compare equal: each is asked.
    const auto kinds = [](const nlohmann::json& document) {
      std::vector<nlohmann::json::value_t> found;
      const auto flat = document.flatten();
      for (const auto& [place, value] : flat.items()) found.push_back(value.type());
      return found;
    };
    if (read.is_structured()) CHECK(kinds(read) == kinds(expected));
    CHECK(read.type() == expected.type());
  }
}

TEST_CASE("what is no JSON, too deep or said twice is refused", "[json]") {
  for (const std::string text : {"",
                                 " ",
                                 "{",
                                 "}",
                                 "{\"a\":1,}",
                                 "[1,]",
                                 "[1 2]",
                                 "01",
                                 "-",
                                 "1.",
                                 ".5",
                                 "1e",
                                 "+1",
                                 "tru",
                                 "nul",
                                 "{\"a\" 1}",
                                 "{a:1}",
                                 "\"open",
                                 "\"tab\there\"",
                                 "\"\\x\"",
                                 "1 2",
                                 "{} {}",
                                 "1e999",
                                 "\"\xff\"",
                                 "--1",
                                 "[\"a\":1]",
                                 "{\"a\":1,\"a\":2}"}) {
    CAPTURE(text);
    CHECK_THROWS_AS(json::parse(text), json::Refused);
  }
  const auto nested = [](std::size_t depth) { return std::string(depth, '[') + std::string(depth, ']'); };
  CHECK(json::parse(nested(20)) == nlohmann::json::parse(nested(20)));
  CHECK(json::parse(nested(32)) == nlohmann::json::parse(nested(32)));
  CHECK_THROWS_AS(json::parse(nested(34)), json::Refused);
  const auto twice = [](const std::string& text) {
    try {
      json::parse(text);
    } catch (const json::Refused& refused) {
      return refused.code();
    }
    return std::string();
  };
  CHECK(twice(R"({"a":1,"b":{"c":1,"c":2}})") == "duplicate");
  CHECK(twice(R"({"a":1,"b":2,"a":3})") == "duplicate");
}
