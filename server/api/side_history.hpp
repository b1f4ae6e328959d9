// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/service/review_book.hpp"

namespace cellarer::api {

/// Every finished set of one side with observed and expected use, its place on the charts, and what differs around it:
/// {household, side, zone, as_of, sets, charts, left_against_right, settings_changes, checks}.
nlohmann::json side_history(const service::ReviewedHome& home, const review::HouseholdHistory& history, Side side,
                            const review::Spreads& spreads, Instant as_of);

/// The same sets as a table, one row each (RFC 4180). Text that a spreadsheet would take for a formula (it begins with
/// = + - @, a tab or a carriage return) gets an apostrophe before it.
std::string side_history_csv(const service::ReviewedHome& home, const review::HouseholdHistory& history, Side side,
                             const review::Spreads& spreads);

/// One cell of such a table.
std::string csv_text(const std::string& text);

/// {more_percent, low_percent, high_percent}: a log ratio with its 95 % limits.
void add_range(nlohmann::json& document, double log_ratio, double standard_error);
void add_no_range(nlohmann::json& document);

const char* name_of(life::ChangeReason reason);

}  // namespace cellarer::api
