// SPDX-License-Identifier: MIT
#include "server/profiles/cell_library.hpp"

#include <algorithm>
#include <thread>

#include "server/json/field.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;

namespace {
const char* const cells = CELLARER_SOURCE_DIR "/data/cells";
}

TEST_CASE("every cell file of the tree is read, fitted and usable") {
  CellLibrary library(cells);
  const auto ids = library.ids();
  CHECK(ids.size() >= 30);
  CHECK(std::is_sorted(ids.begin(), ids.end()));
  for (const std::string& id : ids) {
    INFO(id);
    const auto profile = library.find(id);
    REQUIRE(profile.has_value());
    CHECK(profile->id == id);
    CHECK(profile->usable);
  }
}

TEST_CASE("a cell that the folder does not have is not found") {
  CellLibrary library(cells);
  CHECK_FALSE(library.find("lr6-nowhere").has_value());
  CHECK_FALSE(library.find("../cells/lr6-family").has_value());
  CHECK(CellLibrary("/no/such/folder").ids().empty());
}

TEST_CASE("the family carries the spread between brands and one brand does not") {
  CellLibrary library(cells);
  CHECK(library.find("lr6-family")->spread.brand_log_sd == Approx(0.065));
  CHECK(library.find("lr6-varta-long-life")->spread.brand_log_sd == 0);
}

TEST_CASE("several threads may ask for one cell at once and get the same curve") {
  CellLibrary library(cells);
  std::vector<double> capacities(4);
  std::vector<std::thread> threads;
  for (double& capacity : capacities) {
    threads.emplace_back([&] { capacity = library.find("lr6-family")->curve.capacity_mAh(); });
  }
  for (std::thread& thread : threads) thread.join();
  for (const double capacity : capacities) CHECK(capacity == capacities[0]);
}

TEST_CASE("a cell inside a document is fitted, a rechargeable one kept without use, a broken one refused") {
  const CellLibrary library(cells);
  auto document = nlohmann::json::parse(R"({"id": "x", "designation": "LR6", "nominal_V": 1.5,
    "source": {"title": "t", "basis": "data sheet"}, "discharges": [{"current_mA": 50, "cutoff_V": 0.9, "hours": 50}]})");
  CHECK(library.fit_document(document).usable);
  document["designation"] = "HR6";
  CHECK_FALSE(library.fit_document(document).usable);
  CHECK_FALSE(library.fit_document(document).why_not.empty());
  document["discharges"][0].erase("cutoff_V");
  CHECK_THROWS_AS(library.fit_document(document), json::Refused);
}
