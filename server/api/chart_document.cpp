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

namespace cellarer::api {

using Json = nlohmann::ordered_json;

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

}  // namespace

Json chart_document(const service::HouseholdRecord& record, const service::ForecastAnswer& answer, Side side) {
  const auto zone = record.life.zone;
  const auto as_of = answer.life.as_of;
  const auto& forecast = answer.life.side(side);
  Json out{{"side", name_of(side)},
           {"as_of", json::rfc3339(as_of, zone)},
           {"disclaimer", disclaimer},
           {"warning_percent", nullptr}};
  out["points"] = Json::array();
  const auto tenths = [](double percent) { return std::round(percent * 10) / 10; };
  for (const auto& point : forecast.gauge) {
    out["points"].push_back({{"at", json::rfc3339(point.at, zone)},
                             {"p05", tenths(point.p05)},
                             {"p50", tenths(point.p50)},
                             {"p95", tenths(point.p95)}});
  }
  out["readings"] = Json::array();
  out["cutoff_at"] = nullptr;
  if (forecast.cutoff_at) {
    const auto& at = *forecast.cutoff_at;
    out["cutoff_at"] = {{"p05", json::rfc3339(at.p05, zone)},
                        {"p50", json::rfc3339(at.p50, zone)},
                        {"p95", json::rfc3339(at.p95, zone)}};
  }
  const auto unit = life::unit_in_use(record.life, as_of);
  const auto stints = life::stints(record.life, side, as_of);
  if (!unit || stints.empty()) return out;
  const auto& stimulator = record.life.units[*unit].stimulator;
  out["warning_percent"] = stimulator.warning_percent;
  for (const auto& reading : stints.back().readings) {
    const auto [percent, text] = std::visit(Seen{stimulator.gauge, stimulator.cells_in_series}, reading.value);
    Json one{{"at", json::rfc3339(reading.at, zone)}, {"percent", nullptr}, {"text", text}};
    if (percent) one["percent"] = *percent;
    out["readings"].push_back(std::move(one));
  }
  return out;
}

}  // namespace cellarer::api
