// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "model/review/finding.hpp"

/// The words in which findings are told to a technician. Settings are the clinician's: no sentence says which are
/// right.
namespace cellarer::service {

/// Less was used than expected, not more.
bool less(const review::Finding& finding);

/// As on the wire: "bad_lot".
const char* name_of(review::Kind kind);
const char* name_of(review::Cause cause);
const char* name_of(review::Step step);
const char* name_of(review::Scope scope);

const char* words_of(review::Cause cause, bool less);
const char* words_of(review::Step step);

/// "Use grew on the left side."
std::string title_of(const review::Finding& finding);
/// What it most probably is, or that this cannot be told and what would tell.
std::string verdict_of(const review::Finding& finding);
/// What it rests on, a sentence each.
std::vector<std::string> evidence_of(const review::Finding& finding);

/// 100 (e^x - 1), to a tenth: what a log ratio is as per cent more.
double percent_more(double log_ratio);
/// "10 % more", "4 % less", "as expected".
std::string more_or_less(double log_ratio);
/// "62 in 100"; small ones "less than 1 in 100".
std::string odds_words(double probability);

}  // namespace cellarer::service
