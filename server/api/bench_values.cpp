// SPDX-License-Identifier: MIT
#include "server/api/bench_values.hpp"

#include <cmath>

#include "model/duty/load.hpp"
#include "model/life/gauge.hpp"
#include "server/json/field.hpp"
#include "server/json/texts.hpp"
#include "server/service/finding_words.hpp"

namespace cellarer::api {

using cellarer::json::rfc3339;
using service::BenchValue;
using service::GaugeValue;

namespace {

nlohmann::json measured_document(const service::Measured& measured, const std::string& account) {
  return {{"number", measured.number},
          {"at", rfc3339(measured.at, nullptr)},
          {"who_is", measured.account == account ? "you" : "another"},
          {"side", nullptr},
          {"amplitude", nullptr},
          {"expected", nullptr},
          {"more_percent", nullptr}};
}

nlohmann::json current_document(const BenchValue& value, const std::optional<duty::Stimulator>& model,
                                const std::string& account) {
  auto document = measured_document(value, account);
  document["side"] = name_of(value.side);
  document["what"] = "burst current";
  document["amplitude"] = value.amplitude;
  document["measured"] = value.current_mA;
  document["unit"] = "mA";
  std::string text =
      std::string(value.side == Side::left ? "Left" : "Right") + ": " + json::three_digits(value.current_mA) + " mA";
  const double expected = model ? duty::burst_current_mA(model->side(value.side), value.amplitude) : 0;
  if (expected > 0) {
    const double ratio = std::log(value.current_mA / expected);
    document["expected"] = expected;
    document["more_percent"] = service::percent_more(ratio);
    text += ", " + service::more_or_less(ratio) + " against its model's " + json::three_digits(expected) + " mA";
  }
  document["text"] = text + ".";
  return document;
}

nlohmann::json gauge_document(const GaugeValue& value, const std::optional<duty::Stimulator>& model,
                              const std::string& account) {
  auto document = measured_document(value, account);
  document["what"] = "gauge at " + json::three_digits(value.set_V) + " V";
  document["measured"] = value.percent;
  document["unit"] = "%";
  std::string text =
      "At " + json::three_digits(value.set_V) + " V its gauge showed " + json::three_digits(value.percent) + " %";
  if (model && !model->gauge.volts_at_percent.empty()) {
    const double expected = std::round(10 * life::gauge_percent(model->gauge, value.set_V)) / 10;
    document["expected"] = expected;
    text += ", its model's " + json::three_digits(expected) + " %";
  }
  document["text"] = text + ".";
  return document;
}

}  // namespace

nlohmann::json bench_values(const service::BenchJournal& bench, const std::string& serial,
                            const service::Libraries& libraries, const std::string& account) {
  auto all = nlohmann::json::array();
  for (const auto& value : bench.values) {
    if (value.serial == serial) all.push_back(current_document(value, libraries.stimulator(value.stimulator), account));
  }
  for (const auto& value : bench.gauges) {
    if (value.serial == serial) all.push_back(gauge_document(value, libraries.stimulator(value.stimulator), account));
  }
  return all;
}

nlohmann::json measured_profile(const service::AgencyProfiles& profiles, const std::string& serial, Instant now) {
  const auto* version = profiles.in_force(service::Proposal::Kind::unit, serial, now);
  if (version == nullptr) return nullptr;
  return {{"number", version->number},
          {"approved_at", rfc3339(version->approved_at, nullptr)},
          {"text", "Its own measured values are in force since " + date::format("%F", version->approved_at) + "."}};
}

}  // namespace cellarer::api
