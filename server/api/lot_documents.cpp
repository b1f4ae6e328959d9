// SPDX-License-Identifier: MIT
#include "server/api/lot_documents.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "model/rounds/check.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/json/texts.hpp"

namespace cellarer::api {

using cellarer::json::rfc3339;
using service::LotHome;
using service::LotRecall;
using service::LotStory;

namespace {

std::string count_words(std::int64_t count, const char* one, const char* more) {
  return std::to_string(count) + " " + (count == 1 ? one : more);
}

nlohmann::json home_head(const LotHome& home) {
  return {{"household", reference_of(home.household)},
          {"area", json::text_or_null(home.area.value_or(""))},
          {"stop", json::text_or_null(home.stop.value_or(""))}};
}

template <class Add>
void each_side(const LotHome& home, const Add& add) {
  for (const Side side : both_sides) {
    const auto& since = home.at.in_side[side == Side::left ? 0 : 1];
    if (since) add(side, *since);
  }
}

/// What it has, and what it is about to get.
int pieces_of(const LotHome& home) { return home.at.pieces() + home.at.pieces_on_their_way(); }

bool has_any(const LotHome& home) { return home.at.in_a_side() || pieces_of(home) > 0; }

/// It has none and gets none: what it was to get may be with the carrier, or at a neighbour's.
bool only_missed(const LotHome& home) { return !has_any(home) && !home.at.did_not_come.empty(); }

const char* why_first(const LotHome& home) {
  if (home.at.in_a_side()) return "in a side";
  if (only_missed(home)) return "did not come";
  if (home.at.pieces() == 0) return "on its way";
  return home.other_usable == 0 ? "nothing else there" : "on the shelf";
}

std::string times_text(const std::optional<Instant>& at) { return at ? rfc3339(*at, nullptr) : ""; }

}  // namespace

bool was_called(const LotHome& home, const LotRecall* recall) {
  return recall != nullptr && home.told_at && *home.told_at >= recall->at;
}

std::vector<const LotHome*> calls_in_order(const LotStory& story, const LotRecall* recall) {
  std::vector<const LotHome*> calls;
  for (const LotHome& home : story.homes) {
    if (has_any(home) || only_missed(home) || was_called(home, recall)) calls.push_back(&home);
  }
  const auto rank = [&](const LotHome* home) {
    return std::tuple(was_called(*home, recall), only_missed(*home), !home->at.in_a_side(), home->other_usable > 0,
                      -pieces_of(*home));
  };
  std::stable_sort(calls.begin(), calls.end(), [&](const LotHome* a, const LotHome* b) { return rank(a) < rank(b); });
  return calls;
}

nlohmann::json recall_document(const LotStory& story, const LotRecall* recall, const LabelOf& label) {
  if (recall == nullptr) return nullptr;
  const auto calls = calls_in_order(story, recall);
  const auto called =
      std::count_if(calls.begin(), calls.end(), [&](const LotHome* home) { return was_called(*home, recall); });
  return {{"entry", recall->entry},
          {"at", rfc3339(recall->at, nullptr)},
          {"why", json::text_or_null(recall->why)},
          {"by", label(recall->account)},
          {"to_call", static_cast<std::int64_t>(calls.size()) - called},
          {"called", called}};
}

std::string lot_sentence(const service::LotLine& line) {
  std::string store;
  if (line.did_not_come > 0)
    store += " " + std::to_string(line.did_not_come) + " did not come to " +
             count_words(line.homes_did_not_come, "home", "homes") + ".";
  if (line.in_agency > 0) store += " " + std::to_string(line.in_agency) + " in the agency's store.";
  if (line.lost > 0) store += " " + std::to_string(line.lost) + " written off.";
  const std::string way = line.on_its_way > 0 ? " " + std::to_string(line.on_its_way) + " on the way to " +
                                                    count_words(line.homes_on_its_way, "home", "homes") + "."
                                              : "";
  if (line.in_homes == 0 && line.in_sides == 0) return "In no home now." + way + store;
  std::string text = std::to_string(line.in_homes) + " in " + count_words(line.homes, "home", "homes");
  if (line.in_sides > 0) text += ", in " + count_words(line.in_sides, "side", "sides");
  return text + "." + way + store;
}

nlohmann::json lot_line_document(const service::LotLine& line, const service::LotFacts& facts) {
  return {{"item", line.lot.item},
          {"lot", line.lot.lot},
          {"expires", json::text_or_null(json::month_text(line.expires))},
          {"written_as", facts.written_as(line.lot)},
          {"in_homes", line.in_homes},
          {"on_its_way", line.on_its_way},
          {"did_not_come", line.did_not_come},
          {"lost", line.lost},
          {"in_agency", line.in_agency},
          {"homes", line.homes},
          {"in_sides", line.in_sides},
          {"used_sets", line.used_sets},
          {"received", line.received},
          {"discarded", line.discarded},
          {"sentence", lot_sentence(line)}};
}

std::string did_sentence(const service::LotDid& did) {
  if (!did.life_ratio) return "Too little was noted of its sets to tell how it did.";
  const auto [low, middle, high] = *did.life_ratio;
  const auto percent = [](double ratio) { return static_cast<int>(std::lround(100 * std::abs(1 - ratio))); };
  const auto homes = count_words(did.homes, "home", "homes");
  const std::string from = ", from " + count_words(did.sets, "set", "sets") + " in " +
                           (did.cut ? "the " + homes + " looked at; more homes used it." : homes + ".");
  if (low <= 1 && high >= 1) {
    return "Sets of this lot gave about as much as expected (" + std::to_string(percent(low)) + " % less to " +
           std::to_string(percent(high)) + " % more)" + from;
  }
  const bool less = high < 1;
  const int least = percent(less ? high : low), most = percent(less ? low : high);
  return "Sets of this lot gave about " + std::to_string(percent(middle)) + " % " + (less ? "less" : "more") +
         " than expected (" + std::to_string(least) + " to " + std::to_string(most) + " %)" + from;
}

nlohmann::json lot_document(const LotStory& story, const service::LotDid& did) {
  auto places = nlohmann::json::array(), sides = nlohmann::json::array(), users = nlohmann::json::array(),
       on_its_way = nlohmann::json::array(), did_not_come = nlohmann::json::array();
  for (const LotHome& home : story.homes) {
    for (const stock::Line& line : home.at.lines) {
      places.push_back(home_head(home));
      places.back().update({{"place", line.place},
                            {"quantity", line.quantity},
                            {"expires", json::text_or_null(json::month_text(line.expires))}});
    }
    each_side(home, [&](Side side, Instant since) {
      sides.push_back(home_head(home));
      sides.back().update({{"side", name_of(side)}, {"since", rfc3339(since, nullptr)}});
    });
    for (const service::LotOnItsWay& one : home.at.on_its_way) {
      on_its_way.push_back(home_head(home));
      on_its_way.back().update({{"round", one.round}, {"date", rounds::iso(one.date)}, {"quantity", one.pieces}});
    }
    for (const service::LotAstray& one : home.at.did_not_come) {
      did_not_come.push_back(home_head(home));
      did_not_come.back().update({{"stop", one.stop},
                                  {"round", one.round},
                                  {"date", rounds::iso(one.date)},
                                  {"quantity", one.pieces},
                                  {"said_at", json::time_or_null(one.said_at)}});
    }
    if (home.at.sets == 0) continue;
    users.push_back(home_head(home));
    users.back().update({{"sets", home.at.sets}, {"last_at", json::time_or_null(home.at.last_used)}});
  }
  nlohmann::json ratio = nullptr;
  if (did.life_ratio) {
    const auto thousandth = [](double value) { return std::round(value * 1000) / 1000; };
    const auto& [low, middle, high] = *did.life_ratio;
    ratio = {{"p05", thousandth(low)}, {"p50", thousandth(middle)}, {"p95", thousandth(high)}};
  }
  const auto& line = story.line;
  return {
      {"item", line.lot.item},
      {"lot", line.lot.lot},
      {"totals",
       {{"received", line.received},
        {"used", line.used},
        {"discarded", line.discarded},
        {"unaccounted", line.unaccounted},
        {"in_homes", line.in_homes},
        {"on_its_way", line.on_its_way},
        {"did_not_come", line.did_not_come},
        {"lost", line.lost},
        {"in_agency", line.in_agency},
        {"left_with_erased", line.left_with_erased}}},
      {"places", places},
      {"sides", sides},
      {"on_its_way", on_its_way},
      {"did_not_come", did_not_come},
      {"users", users},
      {"did",
       {{"sets", did.sets},
        {"homes", did.homes},
        {"ratio", ratio},
        {"sentence", did_sentence(did)},
        {"limit",
         "An estimate from readings and from how sets ended, each against its own home. Few sets tell little; fewer "
         "than four in two homes condemn no lot."}}}};
}

nlohmann::json calls_document(const LotStory& story, const LotRecall* recall) {
  auto calls = nlohmann::json::array();
  for (const LotHome* home : calls_in_order(story, recall)) {
    nlohmann::json call = home_head(*home);
    call["sides"] = nlohmann::json::array();
    each_side(*home, [&](Side side, Instant) { call["sides"].push_back(name_of(side)); });
    call["quantity"] = home->at.pieces();
    call["on_its_way"] = home->at.pieces_on_their_way();
    call["did_not_come"] = home->at.pieces_that_did_not_come();
    call["usable_left"] = home->other_usable;
    const bool called = was_called(*home, recall);
    call["called_at"] = called ? json::time_or_null(home->told_at) : nlohmann::json();
    call["called_by"] = called ? json::text_or_null(home->told_by) : nlohmann::json();
    call["why_first"] = why_first(*home);
    calls.push_back(std::move(call));
  }
  return calls;
}

csv::Writer lot_lines(const LotStory& story) {
  csv::Writer table({"where", "household", "area", "stop", "place_or_side", "quantity", "expires", "since", "last_at"});
  if (const auto in_store = story.line.in_agency; in_store > 0)
    table.line(
        {"agency's store", "", "", "", "", std::to_string(in_store), json::month_text(story.line.expires), "", ""});
  if (const auto lost = story.line.lost; lost > 0)
    table.line({"written off", "", "", "", "", std::to_string(lost), "", "", ""});
  for (const LotHome& home : story.homes) {
    const auto reference = reference_of(home.household);
    const auto area = home.area.value_or(""), stop = home.stop.value_or("");
    for (const stock::Line& line : home.at.lines)
      table.line({"shelf", reference, area, stop, line.place, std::to_string(line.quantity),
                  json::month_text(line.expires), "", ""});
    for (const service::LotOnItsWay& one : home.at.on_its_way) {
      table.line({"on its way", reference, area, stop, one.round, std::to_string(one.pieces),
                  json::month_text(one.expires), "", ""});
    }
    for (const service::LotAstray& one : home.at.did_not_come) {
      table.line({"did not come", reference, area, one.stop, one.round, std::to_string(one.pieces),
                  json::month_text(one.expires), times_text(one.said_at), ""});
    }
    each_side(home, [&](Side side, Instant since) {
      table.line({"side", reference, area, stop, name_of(side), "", "", rfc3339(since, nullptr), ""});
    });
    if (home.at.sets > 0) {
      table.line({"used sets", reference, area, stop, "", std::to_string(home.at.sets), "", "",
                  times_text(home.at.last_used)});
    }
  }
  return table;
}

csv::Writer call_lines(const LotStory& story, const LotRecall* recall) {
  csv::Writer table({"household", "area", "stop", "sides", "quantity", "on_its_way", "did_not_come", "usable_left",
                     "why_first", "called_at", "called_by"});
  for (const LotHome* home : calls_in_order(story, recall)) {
    std::string sides;
    each_side(*home, [&](Side side, Instant) { sides += (sides.empty() ? "" : " ") + std::string(name_of(side)); });
    const bool called = was_called(*home, recall);
    table.line({reference_of(home->household), home->area.value_or(""), home->stop.value_or(""), sides,
                std::to_string(home->at.pieces()), std::to_string(home->at.pieces_on_their_way()),
                std::to_string(home->at.pieces_that_did_not_come()), std::to_string(home->other_usable),
                why_first(*home), called ? times_text(home->told_at) : "", called ? home->told_by : ""});
  }
  return table;
}

}  // namespace cellarer::api
