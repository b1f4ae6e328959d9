// SPDX-License-Identifier: MIT
#include "server/api/forecast_document.hpp"

#include <algorithm>
#include <cmath>

#include "model/life/calendar.hpp"
#include "server/api/plan_document.hpp"
#include "server/api/recall_words.hpp"
#include "server/api/sentences.hpp"
#include "server/json/field.hpp"

namespace cellarer::api {

using Json = nlohmann::ordered_json;

namespace {

/// Writes the parts of one household's forecast; holds what every part needs.
class Writer {
 public:
  Writer(const service::HouseholdRecord& record, const service::ForecastAnswer& answer, Asked asked)
      : record_(record), answer_(answer), asked_(asked), as_of_(answer.life.as_of) {}

  Json document() const {
    Json out;
    out["household"] = record_.reference;
    out["zone"] = record_.zone_name;
    out["zone_now"] = zone(as_of_) == record_.life.zone ? record_.zone_name : zone(as_of_)->name();
    out["clocks"] = clocks_document(zone(as_of_), as_of_);
    out["as_of"] = time(as_of_);
    out["next_changing_time"] = time(answer_.life.next_changing_time);
    out["old_after"] = time(as_of_ + std::chrono::hours(12));
    out["disclaimer"] = disclaimer;
    for (const auto which : both_sides) out["sides"][name_of(which)] = side(which);
    out["either_side"] = either_side();
    out["in_hospital"] = in_hospital_document(record_, as_of_);
    out["plans"] = plans_document(record_, answer_);
    out["stock"] = Json::array();
    for (const auto& item : answer_.stock) out["stock"].push_back(stock_item(item));
    out["cautions"] = answer_.cautions;
    return out;
  }

 private:
  const service::HouseholdRecord& record_;
  const service::ForecastAnswer& answer_;
  Asked asked_;
  Instant as_of_;

  /// By whose clock they live at that time: at home or away.
  Zone zone(Instant at) const { return life::zone_at(record_.life, at); }
  std::string time(Instant at) const { return json::rfc3339(at, zone(at)); }
  Json time(const std::optional<Instant>& at) const { return at ? Json(time(*at)) : Json(nullptr); }
  Json times(const std::optional<life::Quantiles<Instant>>& at) const {
    if (!at) return nullptr;
    return {{"p05", time(at->p05)}, {"p50", time(at->p50)}, {"p95", time(at->p95)}};
  }
  /// Tenths of an hour: more would be a claim. Rounded down: the early side.
  static Json hours(const std::optional<life::Quantiles<double>>& left) {
    if (!left) return nullptr;
    const auto tenths = [](double h) { return std::floor(h * 10) / 10; };
    return {{"p05", tenths(left->p05)}, {"p50", tenths(left->p50)}, {"p95", tenths(left->p95)}};
  }

  Json side(Side which) const {
    const auto& forecast = answer_.life.side(which);
    Json out;
    out["phrase"] = wire_name(forecast.phrase);
    out["sentence"] = side_sentence(forecast, which, as_of_, record_.life);
    const auto& recalled = answer_.recalled[which == Side::left ? 0 : 1];
    const auto next = answer_.life.next_changing_time;
    out["limit"] = limit_with_recall(recalled, forecast, next, as_of_, record_.life,
                                     side_limit(forecast, which, next, as_of_, record_.life));
    out["because"] = forecast.because;
    out["questions"] = questions(forecast, which);
    if (forecast.warned_at) out["warned_at"] = time(*forecast.warned_at);
    if (forecast.stopped_at) out["stopped_at"] = time(*forecast.stopped_at);
    out["remaining_h"] = hours(forecast.remaining_h);
    out["warning_at"] = times(forecast.warning_at);
    out["cutoff_at"] = times(forecast.cutoff_at);
    out["change_by"] = time(forecast.change_by);
    out["change_by_reason"] = nullptr;
    if (forecast.change_by) {
      const bool for_recall = recalled && recalled->sets_change_by;
      out["change_by_reason"] = for_recall ? "recall" : forecast.change_for_visit ? "visit" : "cells";
    }
    out["recalled"] = nullptr;
    if (recalled) out["recalled"] = {{"lot", recalled->lot}, {"since", time(recalled->since)}};
    out["no_later_than"] = time(forecast.no_later_than);
    out["coming_changes"] = coming_changes(which);
    out["nights"] = nights(forecast);
    out["last_recorded_at"] = time(forecast.last_recorded_at);
    out["cells_since"] = time(forecast.cells_since);
    out["cells"] = cells(forecast);
    out["to_change"] = to_change(forecast);
    if (asked_ == Asked::comparison) out["fresh_set_h"] = fresh_set(forecast);
    return out;
  }

  /// Clock hours that a fresh set would last from now on, without readings.
  static Json fresh_set(const life::SideForecast& forecast) {
    if (!forecast.set_life_h || !forecast.set_life_log_sd) return nullptr;
    const double factor = std::exp(1.6449 * *forecast.set_life_log_sd);
    return hours(
        life::Quantiles<double>{*forecast.set_life_h / factor, *forecast.set_life_h, *forecast.set_life_h * factor});
  }

  Json questions(const life::SideForecast& forecast, Side which) const {
    Json out = Json::array();
    if (asked_ == Asked::comparison) return out;
    for (const auto question : forecast.questions) {
      Json one{{"code", wire_name(question)}, {"text", question_text(question, forecast, which)}};
      if (question == life::Question::same_change_twice) {
        const auto asked = std::find_if(record_.asked_changes.rbegin(), record_.asked_changes.rend(),
                                        [&](const service::AskedChange& change) { return change.side == which; });
        if (asked != record_.asked_changes.rend() && asked->entry != 0) one["entry"] = asked->entry;
      }
      const auto* more =
          question == life::Question::still_paced_more ? asked_paced_more(record_, which, as_of_) : nullptr;
      if (more != nullptr) {
        one["text"] = "Is the " + std::string(name_of(which)) + " side still paced " + paced_more_words(*more) + "?";
        if (more->entry != 0) one["entry"] = more->entry;
      }
      out.push_back(std::move(one));
    }
    return out;
  }

  Json coming_changes(Side which) const {
    const auto day = [](stock::Date date) { return date::format("%F", std::chrono::sys_days(date)); };
    Json out = Json::array();
    for (const auto& change : answer_.coming[service::slot(which)])
      out.push_back({{"at", time(change.at)}, {"earliest", day(change.earliest)}, {"latest", day(change.latest)}});
    return out;
  }

  Json nights(const life::SideForecast& forecast) const {
    static constexpr const char* weekdays[] = {"Su", "Mo", "Tu", "We", "Th", "Fr", "Sa"};
    Json out = Json::array();
    for (const auto& night : forecast.nights) {
      const Zone place = zone(night.from);
      const auto day = date::floor<date::days>(place->to_local(night.from));
      out.push_back({{"from", time(night.from)},
                     {"to", time(night.to)},
                     {"risk", night.risk},
                     {"risk_by_end", night.risk_by_end},
                     {"window", wire_name(night.window)},
                     {"tonight", night.tonight},
                     {"label", weekdays[date::weekday(day).c_encoding()]}});
      if (place != record_.life.zone) out.back()["zone"] = place->name();
    }
    return out;
  }

  /// That one side or the other runs out within a night: at most the sum (Boole), whatever the two have in common.
  Json either_side() const {
    const auto& left = answer_.life.side(Side::left).nights;
    const auto& right = answer_.life.side(Side::right).nights;
    if (left.empty() || right.empty()) return nullptr;
    Json out = Json::array();
    for (const auto& night : left) {
      const auto same = std::find_if(right.begin(), right.end(), [&](const auto& of) { return of.from == night.from; });
      if (same == right.end()) continue;
      out.push_back({{"from", time(night.from)},
                     {"risk_at_most", std::min(1.0, night.risk + same->risk)},
                     {"tonight", night.tonight}});
    }
    return out;
  }

  static Json cells(const life::SideForecast& forecast) {
    if (!forecast.cells) return nullptr;
    Json out{{"profile", nullptr}, {"lot", nullptr}, {"expires", nullptr}};
    if (forecast.cells->profile) out["profile"] = *forecast.cells->profile;
    if (forecast.cells->lot) out["lot"] = *forecast.cells->lot;
    if (forecast.cells->expires) out["expires"] = month(*forecast.cells->expires);
    return out;
  }

  static std::string month(std::chrono::year_month value) {
    const auto number = static_cast<unsigned>(value.month());
    return std::to_string(static_cast<int>(value.year())) + (number < 10 ? "-0" : "-") + std::to_string(number);
  }

  /// Which cells to take when it is time: a whole set from the line that expires first.
  Json to_change(const life::SideForecast& forecast) const {
    const bool wrong = std::find(forecast.questions.begin(), forecast.questions.end(), life::Question::wrong_cells) !=
                       forecast.questions.end();
    const bool due =
        wrong || forecast.phrase == life::Phrase::change_now || forecast.phrase == life::Phrase::change_before_tonight;
    if (!due) return nullptr;
    Json out{{"cells", service::cells_in_series_at(record_, as_of_)}, {"lot", nullptr}, {"place", nullptr}};
    const auto& lines = answer_.stock.front().lines;
    if (lines.empty()) return out;
    if (lines.front().lot) out["lot"] = *lines.front().lot;
    out["place"] = lines.front().place;
    return out;
  }

  Json stock_item(const stock::ItemForecast& item) const {
    // Without terms nothing is known of how fast an item is used: then there are no days to show.
    const bool has_terms =
        std::any_of(record_.items.begin(), record_.items.end(), [&](const service::ItemTerms& terms) {
          return terms.item == item.item && (terms.every_days || terms.per_cell_change);
        });
    const bool known = item.item == stock::cells_item ? answer_.stock_lasts_known : has_terms;
    Json out{{"item", item.item}, {"quantity", item.quantity}, {"usable", item.usable}, {"days", nullptr}};
    if (known) out["days"] = {{"p05", item.days.p05}, {"p50", item.days.p50}, {"p95", item.days.p95}};
    out["order_by"] = nullptr;
    if (known && item.order_by) out["order_by"] = date::format("%F", std::chrono::sys_days(*item.order_by));
    out["order_quantity"] = known ? item.order_quantity : 0;
    out["order_late"] = known && item.order_late;
    out["please_count"] = item.please_count;
    out["expired"] = item.expired;
    out["expiring_unused"] = item.expiring_unused;
    const int recalled = recalled_pieces(answer_, item.item);
    out["recalled"] = recalled;
    out["sentence"] = sentence_with_recall(item, recalled, stock_sentence(item, known));
    out["limit"] = limit_with_recall(recalled, stock_limit(item, known, stock::date_in(record_.life.zone, as_of_)));
    out["lots"] = Json::array();
    for (const auto& line : item.lines) out["lots"].push_back(stock_line(line));
    for (const auto& line : answer_.recalled_lines) {
      if (line.item != item.item) continue;
      out["lots"].push_back(stock_line(line));
      out["lots"].back()["recalled"] = true;
    }
    return out;
  }

  static Json stock_line(const stock::Line& line) {
    Json lot{{"lot", nullptr}, {"quantity", line.quantity}, {"expires", nullptr}, {"place", line.place}};
    if (line.lot) lot["lot"] = *line.lot;
    if (line.expires) lot["expires"] = month(*line.expires);
    return lot;
  }
};

}  // namespace

Json forecast_document(const service::HouseholdRecord& record, const service::ForecastAnswer& answer, Asked asked) {
  return Writer(record, answer, asked).document();
}

Json clocks_document(Zone zone, Instant at) {
  Json spans = Json::array();
  const auto utc = [](Instant when) { return date::format("%FT%TZ", when); };
  const Instant end = at + date::days(400);
  for (Instant from = at - date::days(200); from < end;) {
    const auto info = zone->get_info(from);
    const Instant to = std::min(end, date::floor<std::chrono::seconds>(info.end));
    const auto offset = std::chrono::duration_cast<std::chrono::minutes>(info.offset);
    spans.push_back({{"from", utc(from)}, {"to", utc(to)}, {"offset_min", offset.count()}});
    from = to;
  }
  return spans;
}

Json packing_document(const std::vector<stock::Packing>& packed) {
  Json out{{"cells", 0}, {"sets", 0}, {"take", Json::array()}, {"other", Json::array()}};
  for (const auto& item : packed) {
    if (item.item != stock::cells_item) {
      out["other"].push_back({{"item", item.item}, {"quantity", item.pieces}, {"missing", item.missing_pieces}});
      continue;
    }
    out["cells"] = item.pieces;
    out["sets"] = item.units;
    out["missing"] = item.missing_pieces;
    for (const auto& line : item.take) {
      Json take{{"lot", nullptr}, {"quantity", line.quantity}, {"place", line.place}};
      if (line.lot) take["lot"] = *line.lot;
      out["take"].push_back(std::move(take));
    }
    // Beyond 999 in 1 000 the figure rests on assumptions about tails.
    const bool nearly = item.odds_unspared >= 0.999;
    out["odds_text"] = nearly ? "Expected to be enough in at least 999 of 1 000 such stays, and one set to spare."
                              : "Expected to be enough in " + std::to_string(static_cast<int>(1000 * item.odds)) +
                                    " of 1 000 such stays.";
  }
  return out;
}

}  // namespace cellarer::api
