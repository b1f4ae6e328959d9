// SPDX-License-Identifier: MIT
#include "server/api/side_checks.hpp"

#include "server/json/field.hpp"
#include "server/json/texts.hpp"
#include "server/service/finding_words.hpp"

namespace cellarer::api {

nlohmann::json checks_of(const service::ReviewedHome& home, const review::HouseholdHistory& history, Side side) {
  static const char* names[] = {"bench_current", "settings_read", "hours_noted"};
  static const char* words[] = {"Measured on the bench: ", "Settings read off the unit: ", "Hours noted: "};
  auto checks = nlohmann::json::array();
  for (std::size_t i = 0; i < history.checks.size(); ++i) {
    const auto& check = history.checks[i];
    if (check.side != side) continue;
    const auto what = static_cast<std::size_t>(check.what);
    nlohmann::json document{
        {"entry", nullptr}, {"at", cellarer::json::rfc3339(check.at, home.zone)}, {"what", names[what]}};
    if (i < home.checks.size()) document["entry"] = home.checks[i].entry;
    document["more_percent"] = service::percent_more(check.log_ratio);
    document["unit"] = json::text_or_null(check.unit);
    document["text"] = words[what] + service::more_or_less(check.log_ratio) + " against the record.";
    checks.push_back(std::move(document));
  }
  return checks;
}

}  // namespace cellarer::api
