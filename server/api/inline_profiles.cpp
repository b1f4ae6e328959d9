// SPDX-License-Identifier: MIT
#include "server/api/inline_profiles.hpp"

#include "server/profiles/stimulator_file.hpp"
#include "server/service/facts.hpp"
#include "server/service/fold.hpp"

namespace cellarer::api {

using cellarer::json::Field;

namespace {

constexpr std::size_t most_profiles = 100;

std::vector<Field> profiles_of_block(const std::optional<Field>& block, const char* name) {
  const auto found = block ? block->find(name) : std::nullopt;
  return found ? found->elements(most_profiles) : std::vector<Field>{};
}

}  // namespace

InlineProfiles::InlineProfiles(const service::Libraries& behind, const std::optional<Field>& block) : behind_(behind) {
  for (const Field& file : profiles_of_block(block, "cells")) {
    const auto profile = behind.fit(file.value(), file.place());
    cells_[profile.id] = profile;
  }
  for (const Field& file : profiles_of_block(block, "stimulators")) {
    const auto stimulator = read_stimulator(file);
    stimulators_[stimulator.id] = stimulator;
  }
  for (const Field& one : profiles_of_block(block, "units"))
    units_[one["serial"].text(60)] = read_stimulator(one["stimulator"]);
}

std::optional<cell::Profile> InlineProfiles::cell(const std::string& id) const {
  const auto found = cells_.find(id);
  return found != cells_.end() ? std::optional(found->second) : behind_.cell(id);
}

std::optional<duty::Stimulator> InlineProfiles::stimulator(const std::string& id) const {
  const auto found = stimulators_.find(id);
  return found != stimulators_.end() ? std::optional(found->second) : behind_.stimulator(id);
}

std::optional<duty::Stimulator> InlineProfiles::unit(const std::string& serial, const std::string& id) const {
  const auto found = units_.find(serial);
  return found != units_.end() ? std::optional(found->second) : stimulator(id);
}

std::vector<std::string> InlineProfiles::stimulator_ids() const {
  auto ids = behind_.stimulator_ids();
  for (const auto& [id, ignored] : stimulators_) ids.push_back(id);
  return ids;
}

std::vector<service::BeforeApproval> read_before_approvals(const service::HouseholdRecord& record,
                                                           const service::Libraries& libraries, const Field& profiles) {
  std::vector<service::BeforeApproval> found;
  for (const Field& block : profiles_of_block(profiles, "before")) {
    auto then = record;
    then.life.cell_profiles.clear();
    then.life.unknown_cells.reset();
    service::complete(then, InlineProfiles(libraries, block));
    found.push_back({service::read_time(block["until"]), std::move(then.life)});
  }
  return found;
}

}  // namespace cellarer::api
