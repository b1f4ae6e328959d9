// SPDX-License-Identifier: MIT
// Reading a household's document.
#include <algorithm>

#include "server/api/household_document.hpp"
#include "server/api/inline_profiles.hpp"
#include "server/service/agency_document.hpp"
#include "server/service/fold.hpp"
#include "server/service/plan_facts.hpp"

namespace cellarer::api {

using cellarer::json::Field;
using service::HouseholdRecord;

namespace {

constexpr std::size_t most_entries = 1'000'000;

std::vector<Field> list(const Field& document, const char* name) {
  const auto found = document.find(name);
  return found ? found->elements(most_entries) : std::vector<Field>{};
}

/// When it was recorded; what does not say so was recorded when it happened.
Instant recorded(const Field& entry) {
  const auto at = entry.find("recorded_at");
  return at ? service::read_time(*at) : service::read_time(entry["at"]);
}

void read_units(HouseholdRecord& record, const Field& document, const service::Libraries& libraries) {
  for (const Field& one : list(document, "units")) {
    record.units.push_back(service::read_unit(one));
    if (libraries.stimulator(record.units.back().stimulator)) continue;
    std::string known;
    for (const auto& id : libraries.stimulator_ids()) known += (known.empty() ? "" : ", ") + id;
    one["stimulator"].refuse("out-of-range",
                             "is no stimulator profile: give it inside \"profiles\", or one of " + known);
  }
}

/// A change says whether it is perhaps the same; where it says nothing, the times tell.
std::vector<service::NumberedChange> read_changes(const Field& document) {
  std::vector<service::NumberedChange> changes;
  for (const Field& one : list(document, "cell_changes")) {
    service::NumberedChange change{service::read_cell_change(one, recorded(one)), 0, false};
    change.fact.from_stock = false;  // the stock stands in the document as it is left
    if (const auto said = one.find("perhaps_the_same")) change.known_different = !said->boolean();
    changes.push_back(std::move(change));
  }
  return changes;
}

void read_spans(HouseholdRecord& record, const Field& document) {
  for (const char* name : {"paced_instead", "paced"}) {
    for (const Field& one : list(document, name)) record.life.paced_instead.push_back(service::read_paced_instead(one));
  }
  for (const Field& one : list(document, "switched_off")) {
    record.life.switched_off.push_back(service::read_switched_off(one));
  }
}

/// Plans take the form of their entries. One that stands there is shown, too.
void read_plans(HouseholdRecord& record, const Field& document) {
  namespace kind = service::kind;
  const auto each = [&](const char* name, const char* what, const auto& read) {
    for (const Field& one : list(document, name)) {
      read(one);
      record.plans.push_back({0, what, one.value()});
    }
  };
  each("stays", kind::stay, [&](const Field& one) {
    record.stays.push_back(service::read_stay(one));
    if (record.stays.back().zone) service::read_zone(one["zone"]);
  });
  each("paced_more", kind::paced_more,
       [&](const Field& one) { record.paced_more.push_back(service::read_paced_more(one)); });
  each("visits", kind::visit, [&](const Field& one) { record.visits.push_back(service::read_visit(one)); });
  each("hospital", kind::hospital, [&](const Field& one) { record.hospital.push_back(service::read_hospital(one)); });
  each("settings", kind::settings, [](const Field&) {});
  each("units", kind::unit, [](const Field&) {});
  each("paced_instead", kind::paced, [](const Field&) {});
  each("switched_off", kind::switched_off, [](const Field&) {});
}

/// Stock as it stands: counted before anything else happened, and nothing in the document uses it.
void read_stock(HouseholdRecord& record, const Field& document) {
  // An item whose books were wrong stays so: one piece was used that no line covers, at a place nobody counts.
  for (const Field& item : list(document, "please_count")) {
    record.stock.push_back({Instant{}, stock::Happened::used, {item.text(60), std::nullopt, 1, std::nullopt, "-"}});
  }
  for (const Field& one : list(document, "stock")) {
    record.stock.push_back({Instant{}, stock::Happened::counted, service::read_stock_line(one, 0)});
  }
}

}  // namespace

HouseholdRecord read_household(const Field& document, const service::Libraries& libraries) {
  const auto fact = service::read_household_fact(document);
  HouseholdRecord record;
  record.reference = fact.reference;
  record.area = fact.area;
  record.stop = fact.stop;
  record.zone_name = fact.zone_name;
  record.life.zone = fact.zone;
  record.life.changing_times = fact.changing_times;
  record.items = fact.items;
  if (fact.policy) record.life.policy = *fact.policy;
  if (const auto agency = document.find("agency")) record.life.agency = service::read_agency(*agency);
  const auto profiles = document.find("profiles");
  if (profiles) record.inline_profiles = profiles->value();
  const InlineProfiles with_inline(libraries, profiles);
  read_units(record, document, with_inline);
  for (const Field& one : list(document, "settings")) record.life.settings.push_back(service::read_settings(one));
  for (const Field& one : list(document, "readings")) {
    record.life.readings.push_back(service::read_reading(one, recorded(one)));
  }
  read_spans(record, document);
  read_plans(record, document);
  read_stock(record, document);
  for (const Field& one : list(document, "recalled_lots"))
    record.recalled_lots.push_back({one["item"].text(60), one["lot"].text(60), service::read_time(one["since"])});
  auto changes = read_changes(document);
  service::complete(record, with_inline);
  service::add_changes(record, std::move(changes));
  service::complete(record, with_inline);
  if (profiles) record.before_approval = read_before_approvals(record, libraries, *profiles);
  return record;
}

}  // namespace cellarer::api
