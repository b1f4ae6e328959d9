// SPDX-License-Identifier: MIT
#include "server/access/cbor.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/hex.hpp"

using namespace cellarer;
using access::cbor::Item;
using access::cbor::Kind;
using tests::from_hex;
using tests::hex;

namespace {

/// RFC 8949's diagnostic notation (section 8), as its appendix A prints it.
std::string diagnostic(const Item& item) {
  const auto joined = [&item](const char* open, const char* close) {
    std::string text = open;
    for (std::size_t i = 0; i < item.elements.size(); ++i) {
      const bool value_of_a_key = item.kind == Kind::map && i % 2 == 1;
      if (i > 0) text += value_of_a_key ? ": " : ", ";
      text += diagnostic(item.elements[i]);
    }
    return text + close;
  };
  switch (item.kind) {
    case Kind::non_negative:
      return std::to_string(item.argument);
    case Kind::negative:
      return "-" +
             (item.argument == UINT64_MAX ? std::string("18446744073709551616") : std::to_string(item.argument + 1));
    case Kind::bytes:
      return "h'" + hex(item.content) + "'";
    case Kind::text:
      return "\"" + item.content + "\"";
    case Kind::array:
      return joined("[", "]");
    case Kind::map:
      return joined("{", "}");
    case Kind::boolean:
      return item.argument == 1 ? "true" : "false";
    case Kind::null:
      return "null";
  }
  return "";
}

struct Example {
  const char* bytes;
  const char* value;
};

std::string refusal(const std::string& bytes) {
  try {
    access::cbor::read(bytes);
  } catch (const access::cbor::Malformed& error) {
    return error.what();
  }
  return "taken";
}

bool refused_for(const char* bytes, const char* reason) {
  CAPTURE(bytes, refusal(from_hex(bytes)));
  return refusal(from_hex(bytes)).find(reason) != std::string::npos;
}

}  // namespace

TEST_CASE("the examples of RFC 8949 that authenticators may send are read") {
  // Appendix A, table 6: all of definite length, without floating point, tags and other simple values.
  const Example examples[] = {
      {"00", "0"},
      {"01", "1"},
      {"0a", "10"},
      {"17", "23"},
      {"1818", "24"},
      {"1819", "25"},
      {"1864", "100"},
      {"1903e8", "1000"},
      {"1a000f4240", "1000000"},
      {"1b000000e8d4a51000", "1000000000000"},
      {"1bffffffffffffffff", "18446744073709551615"},
      {"3bffffffffffffffff", "-18446744073709551616"},
      {"20", "-1"},
      {"29", "-10"},
      {"3863", "-100"},
      {"3903e7", "-1000"},
      {"f4", "false"},
      {"f5", "true"},
      {"f6", "null"},
      {"40", "h''"},
      {"4401020304", "h'01020304'"},
      {"60", "\"\""},
      {"6161", "\"a\""},
      {"6449455446", "\"IETF\""},
      {"62225c", "\"\"\\\""},
      {"62c3bc", "\"\u00fc\""},
      {"63e6b0b4", "\"\u6c34\""},
      {"64f0908591", "\"\U00010151\""},
      {"80", "[]"},
      {"83010203", "[1, 2, 3]"},
      {"8301820203820405", "[1, [2, 3], [4, 5]]"},
      {"98190102030405060708090a0b0c0d0e0f101112131415161718181819",
       "[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25]"},
      {"a0", "{}"},
      {"a201020304", "{1: 2, 3: 4}"},
      {"a26161016162820203", "{\"a\": 1, \"b\": [2, 3]}"},
      {"826161a161626163", "[\"a\", {\"b\": \"c\"}]"},
      {"a56161614161626142616361436164614461656145",
       "{\"a\": \"A\", \"b\": \"B\", \"c\": \"C\", \"d\": \"D\", \"e\": \"E\"}"}};
  for (const auto& example : examples) {
    CAPTURE(example.bytes);
    CHECK(diagnostic(access::cbor::read(from_hex(example.bytes))) == example.value);
  }
}

TEST_CASE("the examples of RFC 8949 that CTAP 2 forbids are refused, each for its reason") {
  for (const char* bytes : {"f90000", "f98000", "f93c00", "fb3ff199999999999a", "f97bff", "fa47c35000", "f97c00",
                            "f97e00", "fb7ff8000000000000"}) {
    CHECK(refused_for(bytes, "floating point"));
  }
  for (const char* bytes : {"f7", "f0", "f818", "f8ff"}) CHECK(refused_for(bytes, "a simple value"));
  for (const char* bytes :
       {"c249010000000000000000", "c074323031332d30332d32315432303a30343a30305a", "d74401020304", "d818456449455446"}) {
    CHECK(refused_for(bytes, "a tag"));
  }
  for (const char* bytes : {"5f42010243030405ff", "7f657374726561646d696e67ff", "9fff", "9f018202039f0405ffff",
                            "83018202039f0405ff", "bf61610161629f0203ffff", "826161bf61626163ff"}) {
    CHECK(refused_for(bytes, "indefinite length"));
  }
}

TEST_CASE("what is no CBOR at all is refused") {
  // RFC 8949, appendix F.1: reserved additional information, ends that come too early, lengths of nothing.
  for (const char* bytes : {"1c", "1d", "1e", "3c", "3d", "3e", "5c", "5d", "5e", "7c", "7d", "7e", "9c", "bc"}) {
    CHECK(refused_for(bytes, "has no meaning"));
  }
  for (const char* bytes : {"",
                            "18",
                            "19",
                            "1a",
                            "1b",
                            "1901",
                            "1a0102",
                            "1b01020304050607",
                            "38",
                            "58",
                            "78",
                            "98",
                            "9a01ff00",
                            "b8",
                            "41",
                            "61",
                            "5affffffff00",
                            "5bffffffffffffffff010203",
                            "7affffffff00",
                            "7b7fffffffffffffff010203",
                            "81",
                            "818181818181818181",
                            "8200",
                            "a1",
                            "a20102",
                            "a100",
                            "a2000000"}) {
    CAPTURE(bytes);
    CHECK(refusal(from_hex(bytes)) != "taken");
  }
  CHECK(refused_for("9affffffff00", "ends too early"));
  CHECK(refused_for("bbffffffffffffffff0000", "ends too early"));
  CHECK(refused_for("0000", "follow after its end"));
}

TEST_CASE("one value has one way of being written") {
  // RFC 8949, 4.2.1: the fewest bytes that hold the argument.
  for (const char* bytes : {"1800", "1817", "190000", "1900ff", "1a00000000", "1a0000ffff", "1b0000000000000000",
                            "1b00000000ffffffff", "3800", "580100", "780161", "980100", "b8010000"}) {
    CHECK(refused_for(bytes, "fewest bytes"));
  }
}

TEST_CASE("maps have each key once, and keys are integers or texts") {
  CHECK(refused_for("a201020103", "twice"));
  CHECK(refused_for("a2616101616102", "twice"));
  CHECK(refused_for("a14100f5", "neither an integer nor a text"));
  CHECK(refused_for("a18000", "neither an integer nor a text"));
  const auto map = access::cbor::read(from_hex("a4010220036161f5613120"));
  REQUIRE(access::cbor::find(map, 1) != nullptr);
  CHECK(access::cbor::integer(*access::cbor::find(map, 1)) == 2);
  CHECK(access::cbor::integer(*access::cbor::find(map, -1)) == 3);
  CHECK(access::cbor::find(map, "a")->kind == Kind::boolean);
  CHECK(access::cbor::integer(*access::cbor::find(map, "1")) == -1);
  CHECK(access::cbor::find(map, 0) == nullptr);
  CHECK(access::cbor::find(map, "b") == nullptr);
  CHECK(access::cbor::find(access::cbor::read(from_hex("82616101")), "a") == nullptr);
}

TEST_CASE("integers beyond 64 signed bits are no integers of ours") {
  CHECK(access::cbor::integer(access::cbor::read(from_hex("1b7fffffffffffffff"))) == INT64_MAX);
  CHECK(access::cbor::integer(access::cbor::read(from_hex("3b7fffffffffffffff"))) == INT64_MIN);
  CHECK_FALSE(access::cbor::integer(access::cbor::read(from_hex("1b8000000000000000"))));
  CHECK_FALSE(access::cbor::integer(access::cbor::read(from_hex("3b8000000000000000"))));
  CHECK_FALSE(access::cbor::integer(access::cbor::read(from_hex("f5"))));
}

TEST_CASE("nesting, size and text have their limits") {
  CHECK(refusal(from_hex("8181818100")) == "taken");  // CTAP 2: four levels
  CHECK(refused_for("818181818100", "nested deeper"));
  CHECK(refused_for("a101a101a101a101a10101", "nested deeper"));
  CHECK(refusal(from_hex("9880") + std::string(128, '\0')) == "taken");
  CHECK(refusal(from_hex("9881") + std::string(129, '\0')).find("more than 128") != std::string::npos);
  CHECK(refused_for("61ff", "not UTF-8"));
  CHECK(refused_for("62c080", "not UTF-8"));
  CHECK(refused_for("63eda080", "not UTF-8"));
}

TEST_CASE("the first item leaves what follows to the next reader") {
  const std::string bytes = from_hex("a10102ffff");
  std::string_view rest = bytes;
  CHECK(diagnostic(access::cbor::read_first(rest)) == "{1: 2}");
  CHECK(rest == from_hex("ffff"));
}
