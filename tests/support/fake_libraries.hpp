// SPDX-License-Identifier: MIT
#pragma once
#include <map>

#include "server/json/field.hpp"
#include "server/service/libraries.hpp"

namespace cellarer::testing {

/// Profiles without files or fits: two units, and two cells of an invented straight curve.
class FakeLibraries : public service::Libraries {
 public:
  FakeLibraries() {
    cells_["lr6-family"] = {"lr6-family", "LR6", {}, {}, true, ""};
    cells_["lr6-example"] = {"lr6-example", "LR6", {}, {}, true, ""};
    duty::Stimulator two;
    two.id = "two-cells";
    duty::Stimulator three;
    three.id = "three-cells";
    three.cells_in_series = 3;
    three.gauge.steps = 5;
    stimulators_ = {{two.id, two}, {three.id, three}};
  }

  std::optional<cell::Profile> cell(const std::string& id) const override { return found(cells_, id); }
  std::vector<std::string> cell_ids() const override { return keys(cells_); }
  std::optional<duty::Stimulator> stimulator(const std::string& id) const override { return found(stimulators_, id); }
  std::vector<std::string> stimulator_ids() const override { return keys(stimulators_); }
  std::optional<nlohmann::json> stimulator_document(const std::string& id) const override {
    if (stimulators_.count(id) == 0) return std::nullopt;
    return nlohmann::json{{"id", id}};
  }
  cell::Profile fit(const nlohmann::json& cell_file, const std::string& place) const override {
    const auto id = json::Field(cell_file, place)["id"].text(80);
    return {id, "LR6", {}, {}, true, ""};
  }

 private:
  template <class T>
  static std::optional<T> found(const std::map<std::string, T>& all, const std::string& id) {
    const auto at = all.find(id);
    if (at == all.end()) return std::nullopt;
    return at->second;
  }
  template <class T>
  static std::vector<std::string> keys(const std::map<std::string, T>& all) {
    std::vector<std::string> ids;
    for (const auto& [id, ignored] : all) ids.push_back(id);
    return ids;
  }

  std::map<std::string, cell::Profile> cells_;
  std::map<std::string, duty::Stimulator> stimulators_;
};

}  // namespace cellarer::testing
