// SPDX-License-Identifier: MIT
#include "server/api/forecast_document.hpp"

#include <algorithm>
#include <cmath>

#include "model/life/calendar.hpp"
#include "server/api/plan_document.hpp"
#include "server/api/recall_words.hpp"
#include "server/api/sentences.hpp"
#include "server/json/field.hpp"
#include "server/json/writer.hpp"

namespace cellarer::api {

using Json = nlohmann::ordered_json;

namespace {

std::string day(stock::Date date) { return json::rfc3339(std::chrono::sys_days(date), nullptr).substr(0, 10); }

/// Writes the parts of one household's forecast; holds what every part needs.
class Forecast {
 public:
  Forecast(const service::HouseholdRecord& record, const service::ForecastAnswer& answer, Asked asked)
      : record_(record), answer_(answer), asked_(asked), as_of_(answer.life.as_of) {}

  std::string document() {
    out_.object([&] {
      out_.member("household", record_.reference);
      out_.member("zone", record_.zone_name);
      out_.member("zone_now", zone(as_of_) == record_.life.zone ? record_.zone_name : zone(as_of_)->name());
      out_.member("clocks", clocks_document(zone(as_of_), as_of_));
      out_.member("as_of", time(as_of_));
      out_.member("next_changing_time", time(answer_.life.next_changing_time));
      out_.member("old_after", time(as_of_ + std::chrono::hours(12)));
      out_.member("disclaimer", disclaimer);
      out_.object("sides", [&] {
        for (const auto which : both_sides) out_.object(name_of(which), [&] { side(which); });
      });
      either_side();
      out_.member("in_hospital", in_hospital_document(record_, as_of_));
      out_.member("plans", plans_document(record_, answer_));
      out_.array("stock", [&] {
        for (const auto& item : answer_.stock) out_.object([&] { stock_item(item); });
      });
      out_.member("cautions", answer_.cautions);
    });
    return out_.take();
  }

 private:
  const service::HouseholdRecord& record_;
  const service::ForecastAnswer& answer_;
  Asked asked_;
  Instant as_of_;
  json::Writer out_;

  /// By whose clock they live at that time: at home or away.
  Zone zone(Instant at) const { return life::zone_at(record_.life, at); }
  std::string time(Instant at) const { return json::rfc3339(at, zone(at)); }
  void time(const char* name, const std::optional<Instant>& at) {
    if (at)
      out_.member(name, time(*at));
    else
      out_.member(name, nullptr);
  }
  void times(const char* name, const std::optional<life::Quantiles<Instant>>& at) {
    if (!at) return out_.member(name, nullptr);
    out_.object(name, [&] {
      out_.member("p05", time(at->p05));
      out_.member("p50", time(at->p50));
      out_.member("p95", time(at->p95));
    });
  }
  /// Tenths of an hour: more would be a claim. Rounded down: the early side.
  void hours(const char* name, const std::optional<life::Quantiles<double>>& left) {
    if (!left) return out_.member(name, nullptr);
    const auto tenths = [](double h) { return std::floor(h * 10) / 10; };
    out_.object(name, [&] {
      out_.member("p05", tenths(left->p05));
      out_.member("p50", tenths(left->p50));
      out_.member("p95", tenths(left->p95));
    });
  }

  void side(Side which) {
    const auto& forecast = answer_.life.side(which);
    out_.member("phrase", wire_name(forecast.phrase));
    out_.member("sentence", side_sentence(forecast, which, as_of_, record_.life));
    const auto& recalled = answer_.recalled[which == Side::left ? 0 : 1];
    const auto next = answer_.life.next_changing_time;
    out_.member("limit", limit_with_recall(recalled, forecast, next, as_of_, record_.life,
                                           side_limit(forecast, which, next, as_of_, record_.life)));
    out_.member("because", forecast.because);
    questions(forecast, which);
    if (forecast.warned_at) time("warned_at", forecast.warned_at);
    if (forecast.stopped_at) time("stopped_at", forecast.stopped_at);
    hours("remaining_h", forecast.remaining_h);
    times("warning_at", forecast.warning_at);
    times("cutoff_at", forecast.cutoff_at);
    time("change_by", forecast.change_by);
    change_by_reason(forecast, recalled && recalled->sets_change_by);
    recalled_lot(recalled);
    time("no_later_than", forecast.no_later_than);
    coming_changes(which);
    nights(forecast);
    time("last_recorded_at", forecast.last_recorded_at);
    time("cells_since", forecast.cells_since);
    cells(forecast);
    to_change(forecast);
    if (asked_ == Asked::comparison) fresh_set(forecast);
  }

  void change_by_reason(const life::SideForecast& forecast, bool for_recall) {
    if (!forecast.change_by) return out_.member("change_by_reason", nullptr);
    out_.member("change_by_reason", for_recall ? "recall" : forecast.change_for_visit ? "visit" : "cells");
  }

  void recalled_lot(const std::optional<service::RecalledInSide>& recalled) {
    if (!recalled) return out_.member("recalled", nullptr);
    out_.object("recalled", [&] {
      out_.member("lot", recalled->lot);
      out_.member("since", time(recalled->since));
    });
  }

  /// Clock hours that a fresh set would last from now on, without readings.
  void fresh_set(const life::SideForecast& forecast) {
    std::optional<life::Quantiles<double>> lasts;
    if (forecast.set_life_h && forecast.set_life_log_sd) {
      const double factor = std::exp(1.6449 * *forecast.set_life_log_sd);
      lasts = {*forecast.set_life_h / factor, *forecast.set_life_h, *forecast.set_life_h * factor};
    }
    hours("fresh_set_h", lasts);
  }

  void questions(const life::SideForecast& forecast, Side which) {
    out_.array("questions", [&] {
      if (asked_ == Asked::comparison) return;
      for (const auto question : forecast.questions) out_.object([&] { this->question(question, forecast, which); });
    });
  }

  void question(life::Question question, const life::SideForecast& forecast, Side which) {
    std::string text = question_text(question, forecast, which);
    std::int64_t entry = 0;
    if (question == life::Question::same_change_twice) {
      const auto asked = std::find_if(record_.asked_changes.rbegin(), record_.asked_changes.rend(),
                                      [&](const service::AskedChange& change) { return change.side == which; });
      if (asked != record_.asked_changes.rend()) entry = asked->entry;
    }
    const auto* more =
        question == life::Question::still_paced_more ? asked_paced_more(record_, which, as_of_) : nullptr;
    if (more != nullptr) {
      text = "Is the " + std::string(name_of(which)) + " side still paced " + paced_more_words(*more) + "?";
      entry = more->entry;
    }
    out_.member("code", wire_name(question));
    out_.member("text", text);
    if (entry != 0) out_.member("entry", entry);
  }

  void coming_changes(Side which) {
    out_.array("coming_changes", [&] {
      for (const auto& change : answer_.coming[service::slot(which)]) {
        out_.object([&] {
          out_.member("at", time(change.at));
          out_.member("earliest", day(change.earliest));
          out_.member("latest", day(change.latest));
        });
      }
    });
  }

  void nights(const life::SideForecast& forecast) {
    out_.array("nights", [&] {
      for (const auto& night : forecast.nights) out_.object([&] { this->night(night); });
    });
  }

  void night(const life::Night& night) {
    static constexpr const char* weekdays[] = {"Su", "Mo", "Tu", "We", "Th", "Fr", "Sa"};
    const Zone place = zone(night.from);
    const auto day = date::floor<date::days>(place->to_local(night.from));
    out_.member("from", time(night.from));
    out_.member("to", time(night.to));
    out_.member("risk", night.risk);
    out_.member("risk_by_end", night.risk_by_end);
    out_.member("window", wire_name(night.window));
    out_.member("tonight", night.tonight);
    out_.member("label", weekdays[date::weekday(day).c_encoding()]);
    if (place != record_.life.zone) out_.member("zone", place->name());
  }

  /// That one side or the other runs out within a night: at most the sum (Boole), whatever the two have in common.
  void either_side() {
    const auto& left = answer_.life.side(Side::left).nights;
    const auto& right = answer_.life.side(Side::right).nights;
    if (left.empty() || right.empty()) return out_.member("either_side", nullptr);
    out_.array("either_side", [&] {
      for (const auto& night : left) {
        const auto same =
            std::find_if(right.begin(), right.end(), [&](const auto& of) { return of.from == night.from; });
        if (same == right.end()) continue;
        out_.object([&] {
          out_.member("from", time(night.from));
          out_.member("risk_at_most", std::min(1.0, night.risk + same->risk));
          out_.member("tonight", night.tonight);
        });
      }
    });
  }

  void cells(const life::SideForecast& forecast) {
    if (!forecast.cells) return out_.member("cells", nullptr);
    out_.object("cells", [&] {
      out_.member("profile", forecast.cells->profile);
      out_.member("lot", forecast.cells->lot);
      month("expires", forecast.cells->expires);
    });
  }

  void month(const char* name, const std::optional<std::chrono::year_month>& value) {
    if (!value) return out_.member(name, nullptr);
    const auto number = static_cast<unsigned>(value->month());
    out_.member(name,
                std::to_string(static_cast<int>(value->year())) + (number < 10 ? "-0" : "-") + std::to_string(number));
  }

  /// Which cells to take when it is time: a whole set from the line that expires first.
  void to_change(const life::SideForecast& forecast) {
    const bool wrong = std::find(forecast.questions.begin(), forecast.questions.end(), life::Question::wrong_cells) !=
                       forecast.questions.end();
    const bool due =
        wrong || forecast.phrase == life::Phrase::change_now || forecast.phrase == life::Phrase::change_before_tonight;
    if (!due) return out_.member("to_change", nullptr);
    const auto& lines = answer_.stock.front().lines;
    out_.object("to_change", [&] {
      out_.member("cells", service::cells_in_series_at(record_, as_of_));
      out_.member("lot", lines.empty() ? std::nullopt : lines.front().lot);
      out_.member("place", lines.empty() ? std::nullopt : std::optional(lines.front().place));
    });
  }

  void stock_item(const stock::ItemForecast& item) {
    // Without terms nothing is known of how fast an item is used: then there are no days to show.
    const bool has_terms =
        std::any_of(record_.items.begin(), record_.items.end(), [&](const service::ItemTerms& terms) {
          return terms.item == item.item && (terms.every_days || terms.per_cell_change);
        });
    const bool known = item.item == stock::cells_item ? answer_.stock_lasts_known : has_terms;
    out_.member("item", item.item);
    out_.member("quantity", item.quantity);
    out_.member("usable", item.usable);
    stock_days(item, known);
    out_.member("order_by", known && item.order_by ? std::optional(day(*item.order_by)) : std::nullopt);
    out_.member("order_quantity", known ? item.order_quantity : 0);
    out_.member("order_late", known && item.order_late);
    out_.member("please_count", item.please_count);
    out_.member("expired", item.expired);
    out_.member("expiring_unused", item.expiring_unused);
    const int recalled = recalled_pieces(answer_, item.item);
    out_.member("recalled", recalled);
    out_.member("sentence", sentence_with_recall(item, recalled, stock_sentence(item, known)));
    out_.member("limit",
                limit_with_recall(recalled, stock_limit(item, known, stock::date_in(record_.life.zone, as_of_))));
    out_.array("lots", [&] {
      for (const auto& line : item.lines) out_.object([&] { stock_line(line); });
      for (const auto& line : answer_.recalled_lines) {
        if (line.item != item.item) continue;
        out_.object([&] {
          stock_line(line);
          out_.member("recalled", true);
        });
      }
    });
  }

  void stock_days(const stock::ItemForecast& item, bool known) {
    if (!known) return out_.member("days", nullptr);
    out_.object("days", [&] {
      out_.member("p05", item.days.p05);
      out_.member("p50", item.days.p50);
      out_.member("p95", item.days.p95);
    });
  }

  void stock_line(const stock::Line& line) {
    out_.member("lot", line.lot);
    out_.member("quantity", line.quantity);
    month("expires", line.expires);
    out_.member("place", line.place);
  }
};

}  // namespace

std::string forecast_document(const service::HouseholdRecord& record, const service::ForecastAnswer& answer,
                              Asked asked) {
  return Forecast(record, answer, asked).document();
}

Json clocks_document(Zone zone, Instant at) {
  Json spans = Json::array();
  const auto utc = [](Instant when) { return json::rfc3339(when, nullptr); };
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
