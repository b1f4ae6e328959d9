// SPDX-License-Identifier: MIT
#include "server/service/round_calendar.hpp"

#include <algorithm>
#include <set>

#include "model/rounds/check.hpp"
#include "server/service/desk_record.hpp"
#include "server/service/facts.hpp"

namespace cellarer::service {

using json::Field;
using rounds::RoundRule;

namespace {

constexpr std::initializer_list<const char*> from_sunday{"sun", "mon", "tue", "wed", "thu", "fri", "sat"};
constexpr int most_stops = 1000;

RoundRule read_rule(const Field& field) {
  RoundRule rule;
  rule.name = field["name"].text(60);
  rule.area = field["area"].text(60);
  if (const auto days = field.find("weekdays")) {
    for (const Field& day : days->elements(7)) rule.weekdays.emplace_back(static_cast<unsigned>(day.word(from_sunday)));
  }
  if (const auto dates = field.find("dates")) {
    for (const Field& date : dates->elements(400)) rule.dates.push_back(read_date(date));
  }
  if (const auto off = field.find("not_on")) {
    for (const Field& date : off->elements(400)) rule.not_on.insert(read_date(date));
  }
  rule.stops = field["stops"].integer(1, most_stops);
  if (const auto lead = field.find("lead_days")) rule.lead_days = lead->integer(0, 60);
  return rule;
}

rounds::Item read_item(const Field& field) {
  rounds::Item item;
  item.name = field["item"].text(60);
  item.pieces_per_pack = field["pieces_per_pack"].integer(1, 10'000);
  if (const auto set = field.find("pieces_per_set")) item.pieces_per_set = set->integer(1, 100);
  return item;
}

void refuse_dates_gone(const Field& field, rounds::Date today) {
  const auto dates = field.find("dates");
  if (!dates) return;
  for (const Field& date : dates->elements(400)) {
    if (read_date(date) >= today) continue;
    date.refuse("out-of-range", "lies before today, " + rounds::iso(today) + ": leave it out, or give a date to come");
  }
}

void refuse_what_never_goes(const Field& field) {
  const auto none = [&](const char* name) {
    const auto list = field.find(name);
    return !list || list->elements(400).empty();
  };
  if (!none("weekdays") || !none("dates")) return;
  throw json::Refused("out-of-range", field.place() + "/weekdays",
                      "the round goes on no day: give weekdays such as \"wed\", or dates");
}

template <class Names>
void refuse_twice(const Field& field, const char* name, Names& names, const char* remedy) {
  if (names.insert(field[name].text(60)).second) return;
  field[name].refuse("duplicate", std::string("is there twice: ") + remedy);
}

nlohmann::json dates_document(const auto& dates) {
  auto list = nlohmann::json::array();
  for (const rounds::Date& date : dates) list.push_back(rounds::iso(date));
  return list;
}

}  // namespace

const rounds::Item* RoundCalendar::item(const std::string& name) const {
  const auto at = std::find_if(items.begin(), items.end(), [&](const rounds::Item& one) { return one.name == name; });
  return at == items.end() ? nullptr : &*at;
}

RoundCalendar read_calendar(const Field& body) {
  RoundCalendar calendar;
  if (const auto days = body.find("horizon_days")) calendar.horizon_days = days->integer(7, 180);
  if (const auto days = body.find("cover_days")) calendar.cover_days = days->integer(7, 180);
  if (const auto zone = body.find("zone")) {
    read_zone(*zone);
    calendar.zone_name = zone->text(60);
  }
  for (const Field& rule : body["rules"].elements(500)) calendar.rules.push_back(read_rule(rule));
  if (const auto items = body.find("items")) {
    for (const Field& item : items->elements(100)) calendar.items.push_back(read_item(item));
  }
  return calendar;
}

RoundCalendar read_new_calendar(const Field& body, rounds::Date today) {
  std::set<std::string> rules, items;
  for (const Field& rule : body["rules"].elements(500)) {
    const Field stops = rule["stops"];
    if (stops.value().is_number_integer() && stops.value().get<long long>() < 1)
      stops.refuse("out-of-range", "a round without stops goes nowhere: give 1 or more, or leave the round out");
    refuse_what_never_goes(rule);
    refuse_dates_gone(rule, today);
    refuse_twice(rule, "name", rules, "give every round a name of its own");
  }
  if (const auto list = body.find("items")) {
    for (const Field& item : list->elements(100)) refuse_twice(item, "item", items, "leave one of them in");
  }
  return read_calendar(body);
}

nlohmann::json calendar_document(const RoundCalendar& calendar) {
  auto rules = nlohmann::json::array();
  for (const RoundRule& rule : calendar.rules) {
    auto days = nlohmann::json::array();
    for (const auto day : rule.weekdays) days.push_back(std::data(from_sunday)[day.c_encoding()]);
    rules.push_back({{"name", rule.name},
                     {"area", rule.area},
                     {"weekdays", std::move(days)},
                     {"dates", dates_document(rule.dates)},
                     {"not_on", dates_document(rule.not_on)},
                     {"stops", rule.stops},
                     {"lead_days", rule.lead_days}});
  }
  auto items = nlohmann::json::array();
  for (const auto& item : calendar.items)
    items.push_back(
        {{"item", item.name}, {"pieces_per_pack", item.pieces_per_pack}, {"pieces_per_set", item.pieces_per_set}});
  nlohmann::json document{{"horizon_days", calendar.horizon_days},
                          {"cover_days", calendar.cover_days},
                          {"rules", std::move(rules)},
                          {"items", std::move(items)}};
  if (!calendar.zone_name.empty()) document["zone"] = calendar.zone_name;
  return document;
}

}  // namespace cellarer::service
