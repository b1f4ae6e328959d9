// SPDX-License-Identifier: MIT
#include "server/api/unit_documents.hpp"

#include <algorithm>
#include <cmath>

#include "model/review/comparisons.hpp"
#include "server/api/bench_values.hpp"
#include "server/api/side_history.hpp"
#include "server/json/field.hpp"
#include "server/json/texts.hpp"
#include "server/service/finding_words.hpp"

namespace cellarer::api {

using cellarer::json::rfc3339;
using service::more_or_less;
using service::UnitHistory;
using service::UnitPlace;

namespace {

nlohmann::json place_document(const UnitPlace& place) {
  static const char* names[] = {"home", "spare", "workshop", "withdrawn", "unknown"};
  static const char* words[] = {"In use in ", "A spare in ", "In the workshop", "Withdrawn", "Not known where"};
  const auto kind = static_cast<std::size_t>(place.kind);
  nlohmann::json document{
      {"kind", names[kind]}, {"household", json::text_or_null(place.household)}, {"from", nullptr}, {"to", nullptr}};
  if (place.kind != UnitPlace::Kind::unknown) document["from"] = rfc3339(place.from, nullptr);
  if (place.to) document["to"] = rfc3339(*place.to, nullptr);
  document["number"] = place.event > 0 ? nlohmann::json(place.event) : nlohmann::json();
  document["voidable"] = place.event > 0;
  document["text"] = words[kind] + place.household + ".";
  return document;
}

nlohmann::json troubles_document(const UnitHistory& unit) {
  auto all = nlohmann::json::array();
  for (const auto& trouble : unit.troubles) {
    nlohmann::json document{{"at", rfc3339(trouble.at, nullptr)},
                            {"household", json::text_or_null(trouble.household)},
                            {"side", nullptr},
                            {"what", trouble.household.empty() ? "workshop" : "home"},
                            {"text", trouble.text}};
    document["number"] = trouble.event > 0 ? nlohmann::json(trouble.event) : nlohmann::json();
    document["voidable"] = trouble.event > 0;
    if (trouble.side) document["side"] = name_of(*trouble.side);
    all.push_back(std::move(document));
  }
  return all;
}

nlohmann::json homes_document(const review::Histories& homes, const std::string& serial,
                              const review::Spreads& spreads) {
  auto all = nlohmann::json::array();
  for (const auto& place : review::places_of_unit(homes, serial, spreads)) {
    nlohmann::json document{{"household", place.subject}, {"side", name_of(place.side)}, {"sets", place.sets_a}};
    add_range(document, place.more, place.standard_error);
    document["text"] = "In " + place.subject + ", " + name_of(place.side) + ": " + more_or_less(place.more) +
                       " than with the other units there.";
    all.push_back(std::move(document));
  }
  return all;
}

nlohmann::json sets_document(const review::Histories& homes, const std::string& serial,
                             const review::Spreads& spreads) {
  auto all = nlohmann::json::array();
  for (const auto* history : homes) {
    std::array<int, 2> numbers{};
    for (const auto& record : history->records) {
      const int number = ++numbers[record.side == Side::left ? 0 : 1];
      if (record.unit != serial) continue;
      nlohmann::json document{{"household", record.household},
                              {"side", name_of(record.side)},
                              {"number", number},
                              {"from", rfc3339(record.from, nullptr)},
                              {"to", rfc3339(record.to, nullptr)},
                              {"cell_type", json::text_or_null(record.cell_type)},
                              {"lot", json::text_or_null(record.lot)},
                              {"ended", name_of(record.ended)}};
      add_no_range(document);
      if (record.observed)
        add_range(document, record.observed->log_ratio,
                  std::max(record.observed->standard_error, spreads.observation_at_least));
      document["text"] = "In " + record.household + ", " + name_of(record.side) + ": " +
                         (record.observed ? more_or_less(record.observed->log_ratio) : "nothing observed") + ".";
      all.push_back(std::move(document));
    }
  }
  return all;
}

}  // namespace

const review::Pooled* pooled_of(const std::vector<review::Pooled>& all, const std::string& subject) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const review::Pooled& one) { return one.subject == subject; });
  return found == all.end() ? nullptr : &*found;
}

nlohmann::json unit_line(const service::ReviewedAgency& agency, const UnitHistory& unit, const review::Pooled* pooled) {
  nlohmann::json document{{"serial", unit.serial},
                          {"stimulator", json::text_or_null(unit.stimulator)},
                          {"place", place_document(unit.place())},
                          {"homes", unit.homes().size()},
                          {"sets", unit.sets},
                          {"faults", unit.troubles.size()},
                          {"draws_too_much", nullptr},
                          {"measured", service::was_measured(agency.bench, unit.serial)}};
  add_no_range(document);
  std::string text = "No set observed in it.";
  if (pooled != nullptr) {
    add_range(document, pooled->pooled, pooled->pooled_sd);
    document["draws_too_much"] = pooled->bad;
    text = "Its sets used " + more_or_less(pooled->pooled) +
           ", as far as they tell; that it draws too much: " + service::odds_words(pooled->bad) + ".";
  }
  document["text"] = text;
  return document;
}

nlohmann::json unit_document(const service::ReviewedAgency& agency, const UnitHistory& unit,
                             const service::ReviewedHomes& homes, const service::Libraries& libraries,
                             const service::AgencyProfiles& profiles, const std::string& account) {
  review::Histories histories;
  for (const auto& home : homes) histories.push_back(&home->history);
  auto document = unit_line(agency, unit, pooled_of(agency.review.units, unit.serial));
  document["places"] = nlohmann::json::array();
  for (const auto& place : unit.places) document["places"].push_back(place_document(place));
  document["faults_list"] = troubles_document(unit);
  document["bench_values"] = bench_values(agency.bench, unit.serial, libraries, account);
  document["homes_list"] = homes_document(histories, unit.serial, agency.options.spreads);
  document["sets_list"] = sets_document(histories, unit.serial, agency.options.spreads);
  document["profile"] = measured_profile(profiles, unit.serial, agency.as_of);
  return document;
}

nlohmann::json lot_document(const service::ReviewedAgency& agency, const review::Pooled& lot) {
  const auto found = agency.cell_types.find(lot.subject);
  const auto cell_type = found == agency.cell_types.end() ? "" : found->second;
  nlohmann::json document{{"lot", lot.subject}, {"cell_type", json::text_or_null(cell_type)},
                          {"sets", lot.sets},   {"households", lot.households},
                          {"homes", lot.homes}, {"short", lot.bad}};
  add_range(document, lot.pooled, lot.pooled_sd);
  document["text"] = std::to_string(lot.sets) + (lot.sets == 1 ? " set" : " sets") + " in " +
                     std::to_string(lot.households) + (lot.households == 1 ? " home" : " homes") + ": used " +
                     more_or_less(lot.pooled) + "; that the lot is short: " + service::odds_words(lot.bad) + ".";
  return document;
}

}  // namespace cellarer::api
