// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <cstdio>

#include "model/life/course.hpp"
#include "model/life/gauge.hpp"
#include "model/life/stint.hpp"
#include "server/api/forecast_document.hpp"
#include "server/api/sentences.hpp"
#include "server/json/field.hpp"
#include "server/json/writer.hpp"

namespace cellarer::api {

namespace {

std::string number(double value, int decimals) {
  char text[32];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}

/// Where a reading stands on the chart's percent scale, if anywhere, and what was seen in words.
struct Seen {
  const duty::Gauge& gauge;
  int cells_in_series;
  std::pair<std::optional<double>, std::string> operator()(const life::PercentShown& shown) const {
    return {shown.percent, number(shown.percent, 0) + " %"};
  }
  std::pair<std::optional<double>, std::string> operator()(const life::StepShown& shown) const {
    const double middle = shown.step == 0 ? 0 : 100.0 * (shown.step - 0.5) / shown.of;
    return {middle, "step " + std::to_string(shown.step) + " of " + std::to_string(shown.of)};
  }
  std::pair<std::optional<double>, std::string> operator()(const life::SetVolts& seen) const {
    return volts(seen.volts);
  }
  std::pair<std::optional<double>, std::string> operator()(const life::CellVolts& seen) const {
    double sum = 0;
    for (const double cell_V : seen.volts) sum += cell_V;
    return volts(sum * cells_in_series / static_cast<double>(seen.volts.size()));
  }
  std::pair<std::optional<double>, std::string> operator()(const life::WarningSounded&) const {
    return {std::nullopt, "the unit warned"};
  }
  std::pair<std::optional<double>, std::string> operator()(const life::SideStopped&) const {
    return {std::nullopt, "the side stopped"};
  }

 private:
  std::pair<std::optional<double>, std::string> volts(double set_V) const {
    return {std::clamp(life::gauge_percent(gauge, set_V), 0.0, 100.0), number(set_V, 2) + " V"};
  }
};

/// Writes one side's chart.
class Chart {
 public:
  Chart(const service::HouseholdRecord& record, const service::ForecastAnswer& answer, Side side)
      : record_(record), answer_(answer), side_(side), forecast_(answer.life.side(side)) {}

  std::string document() {
    const auto as_of = answer_.life.as_of;
    const auto unit = life::unit_in_use(record_.life, as_of);
    const auto stints = life::stints(record_.life, side_, as_of);
    const duty::Stimulator* stimulator = unit && !stints.empty() ? &record_.life.units[*unit].stimulator : nullptr;
    out_.object([&] {
      out_.member("side", name_of(side_));
      out_.member("as_of", time(as_of));
      out_.member("disclaimer", disclaimer);
      if (stimulator != nullptr)
        out_.member("warning_percent", stimulator->warning_percent);
      else
        out_.member("warning_percent", nullptr);
      points();
      out_.array("readings", [&] {
        if (stimulator == nullptr) return;
        for (const auto& reading : stints.back().readings) out_.object([&] { this->reading(reading, *stimulator); });
      });
      cutoff();
    });
    return out_.take();
  }

 private:
  std::string time(Instant at) const { return json::rfc3339(at, record_.life.zone); }

  void points() {
    const auto tenths = [](double percent) { return std::round(percent * 10) / 10; };
    out_.array("points", [&] {
      for (const auto& point : forecast_.gauge) {
        out_.object([&] {
          out_.member("at", time(point.at));
          out_.member("p05", tenths(point.p05));
          out_.member("p50", tenths(point.p50));
          out_.member("p95", tenths(point.p95));
        });
      }
    });
  }

  void reading(const life::Reading& reading, const duty::Stimulator& stimulator) {
    const auto [percent, text] = std::visit(Seen{stimulator.gauge, stimulator.cells_in_series}, reading.value);
    out_.member("at", time(reading.at));
    out_.member("percent", percent);
    out_.member("text", text);
  }

  void cutoff() {
    const auto& at = forecast_.cutoff_at;
    if (!at) return out_.member("cutoff_at", nullptr);
    out_.object("cutoff_at", [&] {
      out_.member("p05", time(at->p05));
      out_.member("p50", time(at->p50));
      out_.member("p95", time(at->p95));
    });
  }

  const service::HouseholdRecord& record_;
  const service::ForecastAnswer& answer_;
  Side side_;
  const life::SideForecast& forecast_;
  json::Writer out_;
};

}  // namespace

std::string chart_document(const service::HouseholdRecord& record, const service::ForecastAnswer& answer, Side side) {
  return Chart(record, answer, side).document();
}

}  // namespace cellarer::api
