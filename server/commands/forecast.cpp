// SPDX-License-Identifier: MIT
// forecast: the forecast of an exported household, without a server.
#include <iostream>
#include <memory>
#include <stdexcept>

#include "server/api/household_document.hpp"
#include "server/api/model_forecaster.hpp"
#include "server/clock.hpp"
#include "server/commands/command.hpp"
#include "server/commands/forecast_text.hpp"
#include "server/commands/libraries.hpp"
#include "server/commands/read_text.hpp"

namespace cellarer::commands {

namespace {

struct ForecastOptions {
  std::string file, at, profiles = usual_profiles().string();
  bool as_json = false;
};

service::HouseholdRecord read_export(const std::string& path, const service::Libraries& libraries) {
  const std::string text = read_text(path);
  try {
    const auto document = json::parse(text);
    return api::read_household(json::Field(document, ""), libraries);
  } catch (const json::Refused& refused) {
    throw std::runtime_error(path + ": " + refused.what());
  }
}

Instant moment(const std::string& text) {
  if (text.empty()) return SystemClock().now();
  const auto at = json::parse_rfc3339(text);
  if (!at) throw CLI::ValidationError("--at", "expected a time with its offset, such as 2026-03-01T21:30:00+01:00");
  return *at;
}

int run_forecast(const ForecastOptions& options) {
  const Instant at = moment(options.at);
  const auto libraries = open_libraries(options.profiles);
  const auto made = api::ModelForecaster().make(read_export(options.file, *libraries), at);
  if (options.as_json)
    std::cout << made.forecast << "\n";
  else
    std::cout << forecast_text(nlohmann::json::parse(made.forecast));
  return done;
}

}  // namespace

Command add_forecast(CLI::App& parent) {
  auto options = std::make_shared<ForecastOptions>();
  CLI::App* app = parent.add_subcommand("forecast", "the forecast of an exported household");
  app->add_option("file", options->file, "a household's export (- is standard input)")->required();
  app->add_option("--at", options->at, "as of this time, RFC 3339 with offset; now where not given");
  app->add_option("--profiles", options->profiles, "folder with cells/ and stimulators/")->capture_default_str();
  app->add_flag("--json", options->as_json, "answer as the API does");
  return {app, [options] { return run_forecast(*options); }};
}

}  // namespace cellarer::commands
