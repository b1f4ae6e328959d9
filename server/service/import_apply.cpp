// SPDX-License-Identifier: MIT
// Storing tables that were checked.
#include "server/service/import.hpp"

namespace cellarer::service {

namespace {

/// {"key", "households", "items", "counts"}: that tables were taken in. It names no household.
constexpr const char* import_kind = "import";

}  // namespace

void apply_import(HouseholdService& households, const std::string& agency, Checked checked, const std::string& key,
                  const std::string& account, const std::string& who) {
  store::Batch& batch = checked.batch;
  std::size_t number = 0;
  const auto next_key = [&] { return key + "/" + std::to_string(++number); };
  for (auto& household : batch.households) {
    household.key = next_key();
    household.account = account;
  }
  for (auto& entry : batch.entries) {
    entry.key = next_key();
    entry.account = account;
    entry.who = who;
  }
  const nlohmann::json body{
      {"key", key}, {"households", checked.households}, {"items", checked.items}, {"counts", checked.counts}};
  batch.agency_entries.push_back({agency, import_kind, "", households.clock().now(), body.dump(), key, account});
  households.journal().write_together(batch);
}

std::optional<Applied> applied_before(HouseholdService& households, const std::string& agency, const std::string& key) {
  const auto entries = households.journal().of(agency);
  for (const auto& entry : *entries) {
    if (entry.kind != import_kind) continue;
    const auto body = nlohmann::json::parse(entry.body);
    if (body.at("key") != key) continue;
    return Applied{body.at("households").get<int>(), body.at("items").get<int>(), body.at("counts").get<int>()};
  }
  return std::nullopt;
}

}  // namespace cellarer::service
