// SPDX-License-Identifier: MIT
// Writing a household.
#include "server/api/household_document.hpp"

#include "server/json/texts.hpp"
#include "server/service/agency_document.hpp"
#include "server/service/facts.hpp"
#include "server/service/household_forecast.hpp"

namespace cellarer::api {

using cellarer::json::rfc3339;
using service::HouseholdRecord;

namespace {

constexpr const char* reasons[] = {"planned", "warning", "ran_out", "fault", "unknown"};
constexpr const char* conditions[] = {"pacing", "idle", "just_on", "off"};
constexpr const char* ages[] = {"fresh", "part_used", "unknown"};
constexpr const char* since_hospital[] = {"as_before", "changed", "dont_know"};
constexpr const char* weekdays[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};

nlohmann::json cell_set_document(const life::CellSet& cells) {
  nlohmann::json document = nlohmann::json::object();
  if (cells.profile) document["profile"] = *cells.profile;
  if (cells.lot) document["lot"] = *cells.lot;
  if (cells.expires) document["expires"] = json::month_text(*cells.expires);
  if (cells.set_id) document["set"] = *cells.set_id;
  if (cells.age != life::CellAge::fresh) document["age"] = ages[static_cast<int>(cells.age)];
  return document;
}

nlohmann::json change_document(const life::CellChange& change, Zone zone) {
  nlohmann::json document{{"at", rfc3339(change.at, zone)},
                          {"recorded_at", rfc3339(change.recorded_at, zone)},
                          {"side", name_of(change.side)},
                          {"reason", reasons[static_cast<int>(change.reason)]},
                          {"cells", cell_set_document(change.cells)}};
  return document;
}

/// Changes that follow another of their side within 12 h say whether they are perhaps the same, so that an
/// answer is not lost on the way.
nlohmann::json changes_document(const HouseholdRecord& record) {
  auto all = nlohmann::json::array();
  std::array<std::optional<Instant>, 2> before;
  for (const auto& change : record.life.cell_changes) {
    auto document = change_document(change, record.life.zone);
    auto& last = before[change.side == Side::left ? 0 : 1];
    if (last && hours_between(*last, change.at) < 12) document["perhaps_the_same"] = change.perhaps_the_same;
    last = change.at;
    all.push_back(std::move(document));
  }
  return all;
}

/// A span of time on one side, with what differed.
template <class Span>
nlohmann::json span_document(const Span& span, Zone zone) {
  nlohmann::json document{{"side", name_of(span.side)}, {"from", rfc3339(span.from, zone)}};
  if (span.to) document["to"] = rfc3339(*span.to, zone);
  return document;
}

template <class List, class Write>
nlohmann::json list(const List& values, const Write& write) {
  auto all = nlohmann::json::array();
  for (const auto& value : values) all.push_back(write(value));
  return all;
}

nlohmann::json item_document(const service::ItemTerms& terms) {
  nlohmann::json document{{"item", terms.item}, {"pack_size", terms.pack_size}, {"lead_days", terms.lead_days}};
  if (terms.every_days) document["every_days"] = *terms.every_days;
  if (terms.per_cell_change) document["per_cell_change"] = *terms.per_cell_change;
  return document;
}

nlohmann::json paced_more_document(const service::PacedMore& more, Zone zone) {
  nlohmann::json document{{"sides", list(more.sides, [](Side side) { return name_of(side); })},
                          {"from", rfc3339(more.from, zone)}};
  if (more.to) document["to"] = rfc3339(*more.to, zone);
  if (more.hours_per_day) document["hours_per_day"] = *more.hours_per_day;
  if (more.amplitude) document["amplitude"] = *more.amplitude;
  if (more.why) document["why"] = *more.why;
  if (more.still_at) document["still_at"] = rfc3339(*more.still_at, zone);
  return document;
}

nlohmann::json visit_document(const service::Visit& visit, Zone zone) {
  nlohmann::json document{{"sides", list(visit.sides, [](Side side) { return name_of(side); })},
                          {"at", rfc3339(visit.at, zone)}};
  if (visit.note) document["note"] = *visit.note;
  return document;
}

nlohmann::json hospital_document(const service::Hospital& hospital, Zone zone) {
  nlohmann::json document{{"from", rfc3339(hospital.stay.from, zone)}};
  if (hospital.note) document["note"] = *hospital.note;
  if (!hospital.stay.to) return document;
  document["to"] = rfc3339(*hospital.stay.to, zone);
  document["settings"] = since_hospital[static_cast<int>(hospital.stay.settings)];
  document["unit"] = since_hospital[static_cast<int>(hospital.stay.unit)];
  return document;
}

void write_stock(nlohmann::json& document, const HouseholdRecord& record, Instant now) {
  const auto stock = service::stock_at(record, now);
  document["stock"] = list(stock.lines, stock_line_document);
  if (!stock.please_count.empty()) document["please_count"] = stock.please_count;
}

}  // namespace

nlohmann::json household_head(const HouseholdRecord& record) {
  nlohmann::json head{{"household", record.reference},
                      {"zone", record.zone_name},
                      {"changing_times", list(record.life.changing_times, json::clock_text)},
                      {"area", nullptr}};
  if (record.area) head["area"] = *record.area;
  return head;
}

nlohmann::json unit_document(const service::UnitRecord& unit, Zone zone) {
  nlohmann::json document{{"serial", unit.serial}, {"stimulator", unit.stimulator}, {"from", rfc3339(unit.from, zone)}};
  if (unit.spare) document["spare"] = true;
  return document;
}

nlohmann::json stay_document(const service::Stay& stay, Zone zone) {
  nlohmann::json document{{"from", rfc3339(stay.from, zone)}, {"to", rfc3339(stay.to, zone)}};
  if (stay.zone) document["zone"] = *stay.zone;
  if (!stay.changing_times.empty()) document["changing_times"] = list(stay.changing_times, json::clock_text);
  return document;
}

nlohmann::json settings_document(const duty::Settings& settings, Zone zone) {
  const auto span = [](const duty::PacedSpan& paced) {
    auto days = nlohmann::json::array();
    for (std::size_t day = 0; day < 7; ++day) {
      if (paced.weekday[day]) days.push_back(weekdays[day]);
    }
    return nlohmann::json{{"days", days}, {"from", json::clock_text(paced.from)}, {"to", json::clock_text(paced.to)}};
  };
  nlohmann::json document{
      {"from", rfc3339(settings.from, zone)},  {"side", name_of(settings.side)},
      {"rate_per_min", settings.rate_per_min}, {"inspiratory_fraction", settings.inspiratory_fraction},
      {"amplitude", settings.amplitude},       {"paced", list(settings.paced, span)}};
  if (settings.growth) {
    document["growth"] = {{"minutes_per_week", settings.growth->a_week.count()},
                          {"up_to_hours", static_cast<double>(settings.growth->up_to_per_day.count()) / 60}};
  }
  return document;
}

nlohmann::json stock_line_document(const stock::Line& line) {
  nlohmann::json document{{"item", line.item}, {"quantity", line.quantity}, {"place", line.place}};
  if (line.lot) document["lot"] = *line.lot;
  if (line.expires) document["expires"] = json::month_text(*line.expires);
  return document;
}

nlohmann::json reading_document(const life::Reading& reading, Zone zone) {
  nlohmann::json document{{"at", rfc3339(reading.at, zone)},
                          {"recorded_at", rfc3339(reading.recorded_at, zone)},
                          {"side", name_of(reading.side)},
                          {"condition", conditions[static_cast<int>(reading.condition)]}};
  struct Shown {
    nlohmann::json& to;
    void operator()(const life::PercentShown& shown) const { to["percent"] = shown.percent; }
    void operator()(const life::StepShown& shown) const { to["step"] = shown.step, to["of"] = shown.of; }
    void operator()(const life::SetVolts& shown) const { to["set_V"] = shown.volts; }
    void operator()(const life::CellVolts& shown) const { to["cell_V"] = shown.volts; }
    void operator()(const life::WarningSounded&) const { to["warning"] = true; }
    void operator()(const life::SideStopped&) const { to["stopped"] = true; }
  };
  std::visit(Shown{document}, reading.value);
  return document;
}

nlohmann::json household_document(const HouseholdRecord& record, Instant now) {
  const Zone zone = record.life.zone;
  nlohmann::json document = household_head(record);
  if (!record.area) document.erase("area");
  if (record.stop) document["stop"] = *record.stop;
  document["policy"] = {{"risk_limit", record.life.policy.risk_limit},
                        {"miss_probability", record.life.policy.miss_probability}};
  document["agency"] = service::agency_document(record.life.agency);
  document["items"] = list(record.items, item_document);
  document["units"] = list(record.units, [&](const auto& unit) { return unit_document(unit, zone); });
  document["settings"] = list(record.life.settings, [&](const auto& one) { return settings_document(one, zone); });
  document["cell_changes"] = changes_document(record);
  document["readings"] = list(record.life.readings, [&](const auto& one) { return reading_document(one, zone); });
  document["paced_instead"] = list(record.life.paced_instead, [&](const duty::PacedInstead& paced) {
    auto span = span_document(paced, zone);
    span["hours_per_day"] = paced.hours_per_day;
    return span;
  });
  document["switched_off"] = list(record.life.switched_off, [&](const auto& off) { return span_document(off, zone); });
  document["stays"] = list(record.stays, [&](const service::Stay& stay) { return stay_document(stay, zone); });
  document["paced_more"] = list(record.paced_more, [&](const auto& more) { return paced_more_document(more, zone); });
  document["visits"] = list(record.visits, [&](const auto& visit) { return visit_document(visit, zone); });
  document["hospital"] = list(record.hospital, [&](const auto& one) { return hospital_document(one, zone); });
  write_stock(document, record, now);
  if (!record.recalled_lots.empty()) {
    document["recalled_lots"] = list(record.recalled_lots, [&](const service::RecalledLot& lot) {
      return nlohmann::json{{"item", lot.item}, {"lot", lot.lot}, {"since", rfc3339(lot.since, zone)}};
    });
  }
  if (!record.inline_profiles.is_null()) document["profiles"] = record.inline_profiles;
  return document;
}

}  // namespace cellarer::api
