// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "model/life/forecast.hpp"
#include "model/stock/reorder.hpp"
#include "server/disclaimer.hpp"

/// What the service says in words, in one place, so that it can be read as a whole at three in the morning. Times are
/// those of the place where the household then is. Never that a side is working; the unit's own alarm and the clinician
/// come first.
namespace cellarer::api {

/// "expected_to_last_tonight" and its like: the wire's names of the four phrases.
const char* wire_name(life::Phrase phrase);
const char* wire_name(life::Question question);
const char* wire_name(life::Window window);

/// "Fri 27 Nov, 21:30"; "21:30 today", "21:30 tomorrow", "03:10" where the day is plain.
std::string when_text(Instant at, Instant as_of, Zone zone);
/// "Fri 27 Nov"; "Fri 27 Nov 2027" where it is more than half a year away.
std::string date_text(stock::Date date, stock::Date today);

/// The largest words of a side: one of the four phrases, or what the unit itself said.
std::string side_sentence(const life::SideForecast& side, Side which, Instant as_of, const life::Household& household);
/// Under it: until when, or why.
std::string side_limit(const life::SideForecast& side, Side which, Instant next_changing_time, Instant as_of,
                       const life::Household& household);
std::string question_text(life::Question question, const life::SideForecast& side, Side which);

/// "Enough for 41 days." and "22 cells. Order 24 by Thu 10 Dec."
std::string stock_sentence(const stock::ItemForecast& item, bool lasts_known);
std::string stock_limit(const stock::ItemForecast& item, bool lasts_known, stock::Date today);

}  // namespace cellarer::api
