// SPDX-License-Identifier: MIT
#include "server/profiles/stimulator_file.hpp"

#include "tests/support/catch.hpp"

using namespace cellarer;
using Json = nlohmann::json;

namespace {

/// The example of the documents (DEVELOPERS.md, files: a stimulator), with `right` written out.
Json example() {
  auto document = Json::parse(R"({
    "id": "stepped-linear", "basis": "invented", "cells_in_series": 2, "cutoff_V": 1.9, "reference_V": 2.5,
    "converter": "constant_current",
    "left": { "burst_base_mA": 18, "burst_slope_mA": 52, "reference_amplitude": 4.0, "exponent": 1.0,
              "rest_mA": 2.2, "standby_mA": 0.6, "off_mA": 0.02 },
    "relative_sd": 0.06, "burst_seen": 0.5,
    "gauge": { "steps": 5, "volts_at_percent": [[100, 3.08], [75, 2.62], [50, 2.42], [25, 2.24], [0, 1.95]],
               "noise_points": 4, "bias_points": 3 },
    "warning_percent": 12 })");
  document["right"] = document["left"];
  return document;
}

duty::Stimulator read(const Json& document) { return read_stimulator({document, ""}); }

/// "code at place" of a refusal, "read" where nothing is refused.
std::string answer_to(const Json& document) {
  try {
    read_stimulator({document, ""});
    read_handling({document, ""});
    return "read";
  } catch (const cellarer::json::Refused& refused) {
    CHECK_FALSE(refused.reason().empty());
    return refused.code() + " at " + refused.place();
  }
}

/// The example with one place changed.
std::string answer_with(const char* place, const Json& value) {
  Json document = example();
  document[Json::json_pointer(place)] = value;
  return answer_to(document);
}

std::string answer_without(const char* parent, const char* member) {
  Json document = example();
  document[Json::json_pointer(parent)].erase(member);
  return answer_to(document);
}

}  // namespace

TEST_CASE("the documents' example of a stimulator is read as it is written") {
  const duty::Stimulator unit = read(example());
  CHECK(unit.id == "stepped-linear");
  CHECK(unit.basis == "invented");
  CHECK(unit.cells_in_series == 2);
  CHECK(unit.cutoff_V == 1.9);
  CHECK(unit.reference_V == 2.5);
  CHECK(unit.converter == duty::Converter::constant_current);
  CHECK(unit.left.burst_base_mA == 18);
  CHECK(unit.left.burst_slope_mA == 52);
  CHECK(unit.left.reference_amplitude == 4);
  CHECK(unit.right.rest_mA == 2.2);
  CHECK(unit.right.standby_mA == 0.6);
  CHECK(unit.right.off_mA == 0.02);
  CHECK(unit.relative_sd == 0.06);
  CHECK(unit.burst_seen == 0.5);
  CHECK(unit.gauge.steps == 5);
  REQUIRE(unit.gauge.volts_at_percent.size() == 5);
  CHECK(unit.gauge.volts_at_percent[2] == std::pair(50.0, 2.42));
  CHECK_FALSE(unit.gauge.reads_high_after_on);
  CHECK_FALSE(unit.gauge.latches);
  CHECK(unit.warning_percent == 12);
}

TEST_CASE("each word for a converter is its own kind") {
  Json document = example();
  document["converter"] = "constant_power";
  CHECK(read(document).converter == duty::Converter::constant_power);
  document["converter"] = "constant_resistance";
  CHECK(read(document).converter == duty::Converter::constant_resistance);
  CHECK(answer_with("/converter", "boost") == "out-of-range at /converter");
}

TEST_CASE("a gauge without steps shows percent") {
  Json document = example();
  document["gauge"].erase("steps");
  CHECK_FALSE(read(document).gauge.steps);
  document["gauge"]["steps"] = nullptr;
  CHECK_FALSE(read(document).gauge.steps);
}

TEST_CASE("a field that nobody knows is passed over") {
  CHECK(answer_with("/colour", "grey") == "read");
  CHECK(answer_with("/left/serial", 3) == "read");
}

TEST_CASE("what is required and missing is named with its place") {
  for (const char* member :
       {"id", "basis", "cutoff_V", "reference_V", "converter", "left", "right", "gauge", "warning_percent"}) {
    CHECK(answer_without("", member) == std::string("missing at /") + member);
  }
  for (const char* member :
       {"burst_base_mA", "burst_slope_mA", "reference_amplitude", "rest_mA", "standby_mA", "off_mA"}) {
    CHECK(answer_without("/right", member) == std::string("missing at /right/") + member);
  }
  CHECK(answer_without("/gauge", "volts_at_percent") == "missing at /gauge/volts_at_percent");
}

TEST_CASE("what lies outside its range is refused at its place") {
  CHECK(answer_with("/cells_in_series", 0) == "out-of-range at /cells_in_series");
  CHECK(answer_with("/cells_in_series", 1.5) == "wrong-type at /cells_in_series");
  CHECK(answer_with("/left/rest_mA", -1) == "out-of-range at /left/rest_mA");
  CHECK(answer_with("/left/exponent", 5) == "out-of-range at /left/exponent");
  CHECK(answer_with("/right/reference_amplitude", 0) == "out-of-range at /right/reference_amplitude");
  CHECK(answer_with("/burst_seen", 1.1) == "out-of-range at /burst_seen");
  CHECK(answer_with("/relative_sd", "6 %") == "wrong-type at /relative_sd");
  CHECK(answer_with("/gauge/steps", 1) == "out-of-range at /gauge/steps");
  CHECK(answer_with("/warning_percent", 101) == "out-of-range at /warning_percent");
  CHECK(answer_with("/reference_V", 5) == "out-of-range at /reference_V");
  CHECK(answer_with("/id", "Stepped Linear") == "out-of-range at /id");
  CHECK(answer_to(Json::array()) == "wrong-type at ");
}

TEST_CASE("a gauge that does not fall is refused at the point that does not") {
  CHECK(answer_with("/gauge/volts_at_percent/2/1", 2.62) == "out-of-range at /gauge/volts_at_percent/2/1");
  CHECK(answer_with("/gauge/volts_at_percent/3/0", 50) == "out-of-range at /gauge/volts_at_percent/3/0");
  CHECK(answer_with("/gauge/volts_at_percent/0/0", 120) == "out-of-range at /gauge/volts_at_percent/0/0");
  CHECK(answer_with("/gauge/volts_at_percent", Json::parse("[[50, 2.4]]")) ==
        "out-of-range at /gauge/volts_at_percent");
  CHECK(answer_with("/gauge/volts_at_percent/1", Json::parse("[75]")) == "wrong-type at /gauge/volts_at_percent/1");
}

TEST_CASE("a cut-off at or above the warning's voltage is refused, for the unit would stop before it warns") {
  // 12 % of the example's gauge: 1.95 + 12/25 x (2.24 - 1.95) = 2.0892 V
  CHECK(answer_with("/cutoff_V", 2.0893) == "out-of-range at /cutoff_V");
  CHECK(answer_with("/cutoff_V", 2.0891) == "read");
}

TEST_CASE("a burst of nothing, or a rest above the burst, is refused") {
  Json document = example();
  document["left"]["burst_base_mA"] = document["left"]["burst_slope_mA"] = 0;
  CHECK(answer_to(document) == "out-of-range at /left");
  CHECK(answer_with("/right/rest_mA", 71) == "out-of-range at /right/rest_mA");
}

TEST_CASE("steps for handling are shown once approved, and until then one sentence stands for them") {
  Json document = example();
  CHECK(read_handling({document, ""}).shown() ==
        std::vector<std::string>{"Follow the maker's card; wearer awake or on the backup."});
  document["handling"] = {
      {"approved", false}, {"source", "bench notes"}, {"date", "2026-03-01"}, {"steps", {"Switch off."}}};
  CHECK(read_handling({document, ""}).shown().front() == "Follow the maker's card; wearer awake or on the backup.");
  CHECK(read_handling({document, ""}).shown().size() == 1);
  document["handling"]["approved"] = true;
  CHECK(read_handling({document, ""}).shown() == std::vector<std::string>{"Switch off."});
}

TEST_CASE("approved steps without source, date or steps are refused") {
  CHECK(answer_with("/handling", {{"approved", true}, {"date", "2026-03-01"}, {"steps", {"Switch off."}}}) ==
        "missing at /handling");
  CHECK(answer_with("/handling", {{"approved", true}, {"source", "bench notes"}, {"date", "2026-03-01"}}) ==
        "missing at /handling");
  CHECK(answer_with("/handling", {{"approved", false}, {"date", "2026-02-30"}}) == "wrong-type at /handling/date");
  CHECK(answer_with("/handling", {{"steps", {"Switch off."}}}) == "missing at /handling/approved");
}
