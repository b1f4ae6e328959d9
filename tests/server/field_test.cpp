// SPDX-License-Identifier: MIT
// The reader of JSON that a stranger wrote. Pointers: RFC 6901; times: RFC 3339.
#include "server/json/field.hpp"

#include "tests/support/catch.hpp"

using namespace cellarer;
using cellarer::json::Field;
using cellarer::json::Refused;

namespace {

Instant utc(int year, unsigned month, unsigned day, int hour, int minute, int second) {
  return std::chrono::sys_days(std::chrono::year(year) / std::chrono::month(month) / std::chrono::day(day)) +
         std::chrono::hours(hour) + std::chrono::minutes(minute) + std::chrono::seconds(second);
}

template <class Read>
std::pair<std::string, std::string> refusal(const nlohmann::json& document, const Read& read) {
  try {
    read(Field(document, ""));
  } catch (const Refused& refused) {
    return {refused.code(), refused.place()};
  }
  return {"not refused", ""};
}

using Pair = std::pair<std::string, std::string>;

}  // namespace

TEST_CASE("a time is read with its offset: the examples of RFC 3339, section 5.8", "[json]") {
  CHECK(json::parse_rfc3339("1985-04-12T23:20:50.52Z") == utc(1985, 4, 12, 23, 20, 50));
  CHECK(json::parse_rfc3339("1996-12-19T16:39:57-08:00") == utc(1996, 12, 20, 0, 39, 57));
  CHECK(json::parse_rfc3339("1937-01-01T12:00:27.87+00:20") == utc(1937, 1, 1, 11, 40, 27));
}

TEST_CASE("a time without an offset, or that is none, is not read", "[json]") {
  for (const char* text :
       {"2026-03-01T21:30:00", "2026-02-30T10:00:00Z", "2026-03-01 21:30:00Z", "2026-03-01T24:00:00Z",
        "2026-03-01T21:30Z", "2026-03-01T21:30:00+1:00", "2026-03-01T21:30:00Zulu", "", "now"}) {
    INFO(text);
    CHECK_FALSE(json::parse_rfc3339(text));
  }
}

TEST_CASE("a time is written in the zone's offset of that moment", "[json]") {
  const Zone oslo = date::locate_zone("Europe/Oslo");
  // Norway: UTC+1 in winter, UTC+2 in summer (IANA tz database).
  CHECK(json::rfc3339(utc(2026, 1, 15, 20, 30, 0), oslo) == "2026-01-15T21:30:00+01:00");
  CHECK(json::rfc3339(utc(2026, 7, 15, 19, 30, 0), oslo) == "2026-07-15T21:30:00+02:00");
  CHECK(json::rfc3339(utc(2026, 1, 15, 20, 30, 0), nullptr) == "2026-01-15T20:30:00Z");
}

TEST_CASE("the place of a refusal is a JSON pointer, escaped", "[json]") {
  const nlohmann::json document{{"a/b", {{"m~n", {1, 2, "three"}}}}};
  const auto place = refusal(document, [](const Field& field) { field["a/b"]["m~n"].elements()[2].number(0, 9); });
  CHECK(place == Pair{"wrong-type", "/a~1b/m~0n/2"});
}

TEST_CASE("numbers, texts and words outside what they may be are refused by name", "[json]") {
  const nlohmann::json document{{"number", 5.5},  {"text", "a\tb"},  {"long", std::string(300, 'x')},
                                {"word", "up"},   {"none", nullptr}, {"month", "2033-13"},
                                {"time", "24:01"}};
  CHECK(refusal(document, [](const Field& f) { f["number"].number(0, 5); }) == Pair{"out-of-range", "/number"});
  CHECK(refusal(document, [](const Field& f) { f["number"].integer(0, 9); }) == Pair{"wrong-type", "/number"});
  CHECK(refusal(document, [](const Field& f) { f["text"].text(); }) == Pair{"out-of-range", "/text"});
  CHECK(refusal(document, [](const Field& f) { f["long"].text(); }) == Pair{"too-long", "/long"});
  CHECK(refusal(document, [](const Field& f) { f["word"].word({"left", "right"}); }) == Pair{"out-of-range", "/word"});
  CHECK(refusal(document, [](const Field& f) { f["none"].text(); }) == Pair{"missing", "/none"});
  CHECK(refusal(document, [](const Field& f) { f["month"].month(); }) == Pair{"wrong-type", "/month"});
  CHECK(refusal(document, [](const Field& f) { f["time"].time_of_day(); }) == Pair{"wrong-type", "/time"});
  CHECK(refusal(document, [](const Field& f) { f["number"].boolean(); }) == Pair{"wrong-type", "/number"});
}

TEST_CASE("what is not JSON is refused with line and column, and so is what nests too deep", "[json]") {
  try {
    json::parse("{\n  \"a\": 1,\n  b\n}");
    FAIL("was read");
  } catch (const Refused& refused) {
    CHECK(refused.code() == "not-json");
    CHECK(refused.reason() == "is not JSON: line 3, column 3");
  }
  CHECK_THROWS_AS(json::parse(std::string(100, '[') + std::string(100, ']')), Refused);
  CHECK_THROWS_AS(json::parse("1e999"), Refused);
  CHECK_NOTHROW(json::parse(std::string(30, '[') + std::string(30, ']')));
}

TEST_CASE("what is nested deeper than 32 levels, or has a key twice in one object, is refused", "[json]") {
  const auto refusal_of = [](const std::string& text) {
    try {
      json::parse(text);
    } catch (const Refused& refused) {
      return refused.reason();
    }
    return std::string("read");
  };
  const auto nested = [](int levels, const char* inmost) {
    return std::string(levels, '[') + inmost + std::string(levels, ']');
  };
  CHECK(refusal_of(nested(32, "1")) == "read");
  CHECK(refusal_of(nested(33, "1")) == "is nested deeper than 32 levels");
  CHECK(refusal_of(nested(32, R"({"a": 1})")) == "is nested deeper than 32 levels");
  CHECK(refusal_of(R"({"a": {"b": 1}, "c": {"b": 2}})") == "read");
  CHECK(refusal_of(R"({"a": {"b": 1, "c": [], "b": {}}})") == R"(gives "b" twice in one object: keep one of the two)");
}

TEST_CASE("a text that is not UTF-8 is refused: one that came in a header nobody has looked at", "[json]") {
  const nlohmann::json document{{"who",
                                 "K\xfc"
                                 "che"}};
  CHECK(refusal(document, [](const Field& field) { field["who"].text(); }) == Pair{"wrong-type", "/who"});
}
