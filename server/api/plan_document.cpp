// SPDX-License-Identifier: MIT
#include "server/api/plan_document.hpp"

#include <algorithm>

#include "model/life/calendar.hpp"
#include "model/life/words.hpp"
#include "server/api/forecast_document.hpp"
#include "server/json/field.hpp"
#include "server/service/fold.hpp"
#include "server/service/plan_facts.hpp"

namespace cellarer::api {

using Json = nlohmann::ordered_json;
namespace kind = service::kind;

namespace {

/// Beyond this a stay's packing says nothing: stock is reckoned for 400 days.
constexpr std::chrono::days packing_horizon{300};

/// One plan, as the page shows it.
struct Shown {
  std::int64_t entry;
  std::string kind, text;
  std::vector<Side> sides;
  Instant from;
  std::optional<Instant> to;
  bool can_end;
  Json packing;
};

class Plans {
 public:
  Plans(const service::HouseholdRecord& record, const service::ForecastAnswer& answer)
      : record_(record), answer_(answer), as_of_(answer.life.as_of) {}

  Json document() const {
    std::vector<Shown> shown;
    for (const auto& plan : record_.plans) {
      if (auto one = show(plan)) shown.push_back(std::move(*one));
    }
    std::stable_sort(shown.begin(), shown.end(), [](const Shown& a, const Shown& b) { return a.from < b.from; });
    Json out = Json::array();
    for (const auto& one : shown) out.push_back(written(one));
    return out;
  }

 private:
  const service::HouseholdRecord& record_;
  const service::ForecastAnswer& answer_;
  Instant as_of_;

  std::string day(Instant at) const { return life::day_words(at, life::zone_at(record_.life, at)); }
  std::string day_and_time(Instant at) const {
    return day(at) + ", " + life::clock_words(at, life::zone_at(record_.life, at));
  }
  /// "since Mon 2 Mar", "from Mon 2 Mar to Fri 6 Mar"
  std::string span(Instant from, const std::optional<Instant>& to) const {
    return (from <= as_of_ && !to ? "since " : "from ") + day(from) + (to ? " to " + day(*to) : "");
  }

  Json written(const Shown& one) const {
    const auto time = [&](Instant at) { return json::rfc3339(at, life::zone_at(record_.life, at)); };
    Json out{
        {"entry", nullptr}, {"kind", one.kind}, {"sides", Json::array()}, {"from", time(one.from)}, {"to", nullptr}};
    if (one.entry != 0) out["entry"] = one.entry;
    for (const auto side : one.sides) out["sides"].push_back(name_of(side));
    if (one.to) out["to"] = time(*one.to);
    out["text"] = one.text;
    out["can_end"] = one.can_end && one.entry != 0;
    if (!one.packing.is_null()) out["packing"] = one.packing;
    return out;
  }

  /// None where it is over and done with.
  std::optional<Shown> show(const service::Plan& plan) const {
    const json::Field body(plan.body, "");
    if (plan.kind == kind::paced_more) return show_more(plan.entry, service::read_paced_more(body));
    if (plan.kind == kind::visit) return show_visit(plan.entry, service::read_visit(body));
    if (plan.kind == kind::stay) return show_stay(plan.entry, service::read_stay(body));
    if (plan.kind == kind::hospital) return show_hospital(plan.entry, service::read_hospital(body));
    if (plan.kind == kind::unit) return show_unit(plan.entry, service::read_unit(body));
    if (plan.kind == kind::settings) return show_settings(plan.entry, service::read_settings(body));
    if (plan.kind == kind::paced) {
      const auto paced = service::read_paced_instead(body);
      return show_span(plan, paced.side, paced.from, paced.to,
                       "paced " + life::number_words(paced.hours_per_day) + " hours a day ");
    }
    const auto off = service::read_switched_off(body);
    return show_span(plan, off.side, off.from, off.to, "switched off ");
  }

  bool over(const std::optional<Instant>& to) const { return to && *to <= as_of_; }
  static std::string capital(std::string text) {
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text;
  }

  std::optional<Shown> show_more(std::int64_t entry, const service::PacedMore& more) const {
    if (over(more.to)) return std::nullopt;
    auto text = "Paced " + paced_more_words(more) + " " + span(more.from, more.to) + ".";
    return Shown{entry, kind::paced_more, text, more.sides, more.from, more.to, true, nullptr};
  }
  std::optional<Shown> show_visit(std::int64_t entry, const service::Visit& visit) const {
    if (visit.at <= as_of_) return std::nullopt;
    auto text = "A visit on " + day_and_time(visit.at) + " wants fresh cells.";
    return Shown{entry, kind::visit, text, visit.sides, visit.at, std::nullopt, false, nullptr};
  }
  std::optional<Shown> show_stay(std::int64_t entry, const service::Stay& stay) const {
    if (over(stay.to)) return std::nullopt;
    Shown shown{entry, kind::stay, "Away " + span(stay.from, stay.to) + ".", {}, stay.from, stay.to, true, nullptr};
    if (stay.from > as_of_ && stay.to < as_of_ + packing_horizon)
      shown.packing = packing_document(service::packing_for(record_, stay, answer_));
    return shown;
  }
  std::optional<Shown> show_hospital(std::int64_t entry, const service::Hospital& hospital) const {
    const auto& all = record_.hospital;
    const bool open = std::any_of(all.begin(), all.end(), [&](const service::Hospital& one) {
      return one.entry == entry && one.stay.from == hospital.stay.from && !over(one.stay.to);
    });
    if (!open) return std::nullopt;
    auto text = "In hospital " + std::string(hospital.stay.from <= as_of_ ? "since " : "from ") +
                day_and_time(hospital.stay.from) + ".";
    return Shown{entry, kind::hospital, text, {}, hospital.stay.from, std::nullopt, false, nullptr};
  }
  std::optional<Shown> show_unit(std::int64_t entry, const service::UnitRecord& unit) const {
    if (unit.from <= as_of_) return std::nullopt;
    auto text = "Unit " + unit.serial + (unit.spare ? " kept as a spare from " : " from ") + day(unit.from) + ".";
    return Shown{entry, kind::unit, text, {}, unit.from, std::nullopt, false, nullptr};
  }
  std::optional<Shown> show_settings(std::int64_t entry, const duty::Settings& settings) const {
    const bool newest =
        std::none_of(record_.life.settings.begin(), record_.life.settings.end(), [&](const duty::Settings& other) {
          return other.side == settings.side && other.from > settings.from && other.from <= as_of_;
        });
    if (settings.from <= as_of_ && (!settings.growth || !newest)) return std::nullopt;
    std::string text = std::string(name_of(settings.side)) + ": ";
    if (settings.growth) {
      text += "pacing grows by " + std::to_string(settings.growth->a_week.count()) + " minutes a week until " +
              life::number_words(static_cast<double>(settings.growth->up_to_per_day.count()) / 60) + " hours, from ";
    } else {
      text += "new settings from ";
    }
    return Shown{entry,           kind::settings, capital(text + day(settings.from) + "."),
                 {settings.side}, settings.from,  std::nullopt,
                 false,           nullptr};
  }
  std::optional<Shown> show_span(const service::Plan& plan, Side side, Instant from, const std::optional<Instant>& to,
                                 const std::string& what) const {
    if (over(to)) return std::nullopt;
    auto text = capital(std::string(name_of(side)) + ": " + what + span(from, to) + ".");
    return Shown{plan.entry, plan.kind, text, {side}, from, to, true, nullptr};
  }
};

}  // namespace

Json plans_document(const service::HouseholdRecord& record, const service::ForecastAnswer& answer) {
  return Plans(record, answer).document();
}

Json in_hospital_document(const service::HouseholdRecord& record, Instant at) {
  for (const auto& hospital : record.hospital) {
    if (hospital.stay.from > at || (hospital.stay.to && *hospital.stay.to <= at)) continue;
    Json out{{"since", json::rfc3339(hospital.stay.from, life::zone_at(record.life, hospital.stay.from))},
             {"entry", nullptr}};
    if (hospital.entry != 0) out["entry"] = hospital.entry;
    return out;
  }
  return nullptr;
}

const service::PacedMore* asked_paced_more(const service::HouseholdRecord& record, Side side, Instant at) {
  const service::PacedMore* asked = nullptr;
  const auto said = [](const service::PacedMore& more) {
    return std::max(more.from, more.still_at.value_or(more.from));
  };
  for (const auto& more : record.paced_more) {
    const bool of_side = std::find(more.sides.begin(), more.sides.end(), side) != more.sides.end();
    const bool open = of_side && !more.to && more.from <= at;
    if (open && (asked == nullptr || said(more) < said(*asked))) asked = &more;
  }
  return asked;
}

std::string paced_more_words(const service::PacedMore& more) {
  std::string words;
  if (more.hours_per_day)
    words = *more.hours_per_day >= 24 ? "all day" : life::number_words(*more.hours_per_day) + " hours a day";
  if (more.amplitude)
    words += std::string(words.empty() ? "" : " ") + "with amplitude " + life::number_words(*more.amplitude);
  return words;
}

}  // namespace cellarer::api
