// SPDX-License-Identifier: MIT
#pragma once
#include "model/stock/ledger.hpp"
#include "server/service/fold.hpp"
#include "server/store/memory_store.hpp"
#include "tests/support/fake_libraries.hpp"
#include "tests/support/noon.hpp"

/// A household in memory, for tests of what entries fold to.
namespace cellarer::testing {

using namespace cellarer::service;

inline Instant after_h(double hours) { return hours_after(noon, hours); }
inline std::string text(Instant at) { return json::rfc3339(at, nullptr); }

/// A household in memory, with one unit of two cells in series.
struct House {
  House() {
    store->create_household(
        {"h-1", R"({"household":"h-1","zone":"Europe/Oslo","changing_times":["21:30"]})", "k", noon});
    add(kind::unit, noon, {{"serial", "u-1"}, {"stimulator", "two-cells"}, {"from", text(after_h(-1000))}});
  }

  std::int64_t add(const char* kind, Instant at, const nlohmann::json& body, std::optional<std::int64_t> voids = {}) {
    const auto key = "k" + std::to_string(++keys);
    return store->append({"h-1", kind, at, at, "", body.dump(), key, voids}).entry.number;
  }

  std::int64_t change(double hours, const char* side, nlohmann::json more = nlohmann::json::object()) {
    nlohmann::json body{{"at", text(after_h(hours))}, {"side", side}, {"reason", "planned"}};
    body.update(more);
    return add(kind::cell_change, after_h(hours), body);
  }

  std::int64_t read(double hours, const char* side, nlohmann::json more) {
    more.update({{"at", text(after_h(hours))}, {"side", side}});
    return add(kind::reading, after_h(hours), more);
  }

  HouseholdRecord record() const { return fold(*store->household("h-1"), store->entries("h-1"), libraries).record; }

  int cells() const {
    int pieces = 0;
    for (const auto& line : stock::stock_after(record().stock, after_h(10'000)).lines) pieces += line.quantity;
    return pieces;
  }

  std::unique_ptr<store::Store> store = store::open_memory_store();
  FakeLibraries libraries;
  int keys = 0;
};

}  // namespace cellarer::testing
