// SPDX-License-Identifier: MIT
#include "server/profiles/cell_file.hpp"

#include <string>

#include "tests/support/catch.hpp"

using namespace cellarer;

namespace {

std::string file(const std::string& discharges, const std::string& more = "") {
  return R"({"id": "lr6-example", "designation": "LR6", "nominal_V": 1.5, )" + more +
         R"("source": {"title": "T", "publisher": "P", "year": 2019, "basis": "data sheet"}, "discharges": [)" +
         discharges + "]}";
}

struct Refusal {
  std::string code, place, reason;
};

Refusal refusal(const std::string& text) {
  try {
    read_cell_file(text);
  } catch (const json::Refused& refused) {
    return {refused.code(), refused.place(), refused.reason()};
  }
  return {"", "", "was read"};
}

const std::string good = R"({"current_mA": 100, "cutoff_V": 0.9, "hours": 23.2})";

}  // namespace

TEST_CASE("a cell file is read with its defaults") {
  const auto cell = read_cell_file(file(
      good +
      R"(, {"resistance_ohm": 43, "cutoff_V": 0.9, "capacity_mAh": 2200, "on_s": 14400, "period_s": 86400, "temperature_C": 20},
      {"power_mW": 250, "cutoff_V": 1.0, "hours": 9.6, "colour": "blue"})"));
  REQUIRE(cell.discharges.size() == 3);
  CHECK(cell.id == "lr6-example");
  CHECK(cell.brand == "lr6-example");
  CHECK(cell.source.basis == cell::Basis::data_sheet);
  CHECK(cell.discharges[0].load.kind == cell::LoadKind::current);
  CHECK(cell.discharges[0].temperature_C == 21);
  CHECK_FALSE(cell.discharges[0].regimen.has_value());
  CHECK(cell.discharges[1].regimen->on_s == 14400);
  CHECK(*cell.discharges[1].capacity_mAh == 2200);
  CHECK(cell.discharges[2].load.value == 250);
  CHECK_FALSE(cell.family);
}

TEST_CASE("a cell file that breaks the form is refused with the place and what would be right") {
  const auto check = [](const std::string& discharge, const char* code, const char* place, const char* says) {
    const Refusal refused = refusal(file(discharge));
    INFO(discharge << ": " << refused.reason);
    CHECK(refused.code == code);
    CHECK(refused.place == place);
    CHECK(refused.reason.find(says) != std::string::npos);
  };
  check(R"({"cutoff_V": 0.9, "hours": 1})", "missing", "/discharges/0", "needs one load");
  check(R"({"current_mA": 100, "power_mW": 5, "cutoff_V": 0.9, "hours": 1})", "conflict", "/discharges/0",
        "only one of");
  check(R"({"current_mA": 100, "cutoff_V": 0.9})", "missing", "/discharges/0", "hours or capacity_mAh");
  check(R"({"current_mA": 100, "cutoff_V": 0.9, "hours": 1, "capacity_mAh": 100})", "conflict", "/discharges/0",
        "only one of");
  check(R"({"current_mA": 0, "cutoff_V": 0.9, "hours": 1})", "out-of-range", "/discharges/0/current_mA",
        "0.01 to 20000");
  check(R"({"current_mA": "100", "cutoff_V": 0.9, "hours": 1})", "wrong-type", "/discharges/0/current_mA", "a number");
  check(R"({"current_mA": 100, "hours": 1})", "missing", "/discharges/0/cutoff_V", "required");
  check(R"({"current_mA": 100, "cutoff_V": 1.7, "hours": 1})", "out-of-range", "/discharges/0/cutoff_V",
        "below 1.65 V");
  check(R"({"current_mA": 100, "cutoff_V": 0.9, "hours": -2})", "out-of-range", "/discharges/0/hours", "0.0001 to");
  check(R"({"current_mA": 100, "cutoff_V": 0.9, "hours": 1, "on_s": 10})", "missing", "/discharges/0",
        "both on_s and period_s");
  check(R"({"current_mA": 100, "cutoff_V": 0.9, "hours": 1, "on_s": 90, "period_s": 60})", "out-of-range",
        "/discharges/0/on_s", "longer than period_s");
  check(R"({"current_mA": 100, "cutoff_V": 0.9, "hours": 1, "temperature_C": 300})", "out-of-range",
        "/discharges/0/temperature_C", "-60 to 80");
  const std::string of_one = R"({"current_mA": 100, "cutoff_V": 0.9, "hours": 23.2, "specimen": "a"})";
  check(of_one + ", " + of_one, "duplicate", "/discharges/1", "/discharges/0");
  check(
      R"({"current_mA": 100, "cutoff_V": 0.9, "hours": 9, "specimen": "a"}, {"current_mA": 100, "cutoff_V": 1.0, "hours": 10, "specimen": "a"})",
      "conflict", "/discharges/1", "sooner");
  check("", "missing", "/discharges", "at least one");
  check("7", "wrong-type", "/discharges/0", "object");
}

TEST_CASE("the head of a cell file is refused with its place") {
  CHECK(refusal("not json").code == "not-json");
  CHECK(refusal("[]").code == "wrong-type");
  CHECK(refusal("{}").place == "/id");
  CHECK(refusal(R"({"id": "A B"})").place == "/id");
  CHECK(refusal(R"({"id": "a", "designation": "LR6", "nominal_V": 1.5, "source": {"title": "t", "basis": "guess"}})")
            .place == "/source/basis");
  CHECK(refusal(R"({"id": "a", "designation": "LR6", "nominal_V": 1.5})").place == "/source");
  CHECK(refusal(R"({"id": "a", "designation": "LR6", "nominal_V": 0, "source": {}})").place == "/nominal_V");
  CHECK(refusal(file(good, R"("spread": {"dud_fraction": 2}, )")).place == "/spread/dud_fraction");
}

TEST_CASE("two rows of one test that differ are two cells, and a load on all the time is continuous") {
  const auto cell = read_cell_file(
      file(good + R"(, {"current_mA": 100, "cutoff_V": 0.9, "hours": 22.8, "on_s": 60, "period_s": 60})"));
  REQUIRE(cell.discharges.size() == 2);
  CHECK_FALSE(cell.discharges[1].regimen.has_value());
}

TEST_CASE("the same figure of two cells that are not told apart is read twice") {
  CHECK(read_cell_file(file(good + ", " + good)).discharges.size() == 2);
}

TEST_CASE("a key given twice in one object is refused, the same key in two objects is not") {
  const Refusal refused = refusal(file(R"({"current_mA": 100, "cutoff_V": 0.9, "hours": 23.2, "hours": 2})"));
  CHECK(refused.code == "duplicate");
  CHECK(refused.reason.find("\"hours\" twice") != std::string::npos);
  CHECK(read_cell_file(file(good + R"(, {"current_mA": 50, "cutoff_V": 0.9, "hours": 50})")).discharges.size() == 2);
}

TEST_CASE("a rechargeable cell needs no discharges: it is a record only") {
  const auto cell = read_cell_file(
      R"({"id": "hr6", "designation": "HR6", "nominal_V": 1.2, "source": {"title": "t", "basis": "memory"}})");
  CHECK(cell.discharges.empty());
}
