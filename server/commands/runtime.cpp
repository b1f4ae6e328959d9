// SPDX-License-Identifier: MIT
// runtime: hours of one cell under one steady load.
#include <cstdio>
#include <iostream>
#include <memory>
#include <optional>
#include <sstream>
#include <stdexcept>

#include <nlohmann/json.hpp>

#include "model/cell/pair.hpp"
#include "model/cell/runtime.hpp"
#include "server/commands/cell_files.hpp"
#include "server/commands/command.hpp"

namespace cellarer::commands {

namespace {

struct RuntimeOptions {
  std::string file;
  std::optional<double> current_mA, resistance_ohm, power_mW;
  double cutoff_V = 0, hours_per_day = 24, temperature_C = 21;
  std::optional<double> fixture_ohm, beside_used_percent;
  bool as_json = false;
};

/// CLI::Range lets "nan" through: every comparison with it is false.
CLI::Validator between(double lowest, double highest) {
  const auto check = [lowest, highest](const std::string& text) {
    double value = 0;
    if (CLI::detail::lexical_cast(text, value) && value >= lowest && value <= highest) return std::string();
    std::ostringstream refusal;
    refusal << "'" << text << "' is not a number from " << lowest << " to " << highest;
    return refusal.str();
  };
  return CLI::Validator(check, "");
}

cell::Load load_of(const RuntimeOptions& options) {
  const int given = options.current_mA.has_value() + options.resistance_ohm.has_value() + options.power_mW.has_value();
  if (given != 1) throw CLI::ValidationError("load", "give exactly one of --current-ma, --resistance-ohm, --power-mw");
  if (options.current_mA) return {cell::LoadKind::current, *options.current_mA};
  if (options.resistance_ohm) return {cell::LoadKind::resistance, *options.resistance_ohm};
  return {cell::LoadKind::power, *options.power_mW};
}

nlohmann::json document_of(const cell::PublishedCell& cell, const cell::Runtime& runtime) {
  return {{"id", cell.id},
          {"hours", runtime.hours},
          {"hours_low", runtime.hours_low},
          {"hours_high", runtime.hours_high},
          {"with_fixture_ohm", runtime.by_peukert ? nlohmann::json() : nlohmann::json(runtime.with_fixture_ohm)},
          {"fixture_ohm", runtime.by_peukert ? nlohmann::json() : nlohmann::json(runtime.source_fixture_ohm)},
          {"bare_hours", runtime.by_peukert ? nlohmann::json() : nlohmann::json(runtime.bare_hours)},
          {"days", runtime.days},
          {"capacity_mAh", runtime.capacity_mAh},
          {"method", runtime.by_peukert ? "peukert" : "curve"},
          {"inside_published_range", runtime.inside_range},
          {"cautions", runtime.cautions}};
}

/// The fresh cell in series with one that was used before; load and cut-off of the two are twice those of one.
cell::SetDischarged beside_used(const cell::FitSummary& fitted, const RuntimeOptions& options) {
  auto load = load_of(options);
  if (load.kind != cell::LoadKind::current) load.value *= 2;
  const double used = *options.beside_used_percent / 100;
  return cell::discharge_set({{fitted.curve}, {fitted.curve, used}}, load, 2 * options.cutoff_V);
}

nlohmann::json document_of(const cell::SetDischarged& pair) {
  const auto reversed = pair.first_reversed_h < 0 ? nlohmann::json() : nlohmann::json(pair.first_reversed_h);
  return {{"hours", pair.hours}, {"end_V", pair.end_V}, {"first_reversed_h", reversed}};
}

void print_text(const cell::SetDischarged& pair) {
  std::printf("in series with the used cell %.4g h, bare cells; then the fresh one has %.3g V, the used one %.3g V\n",
              pair.hours, pair.end_V[0], pair.end_V[1]);
  if (pair.first_reversed_h >= 0)
    std::printf("note: the used cell is driven backwards after %.4g h and may leak. Change both together.\n",
                pair.first_reversed_h);
}

void print_text(const cell::Runtime& runtime) {
  std::printf("%.4g h under load, 90 %% between %.4g and %.4g h (%.4g mAh, %.4g days)\n", runtime.hours,
              runtime.hours_low, runtime.hours_high, runtime.capacity_mAh, runtime.days);
  if (!runtime.by_peukert) {
    std::printf("with %.2g ohm in series; the bare cell %.4g h (the published rows have %.2g ohm inside)\n",
                runtime.with_fixture_ohm, runtime.bare_hours, runtime.source_fixture_ohm);
  }
  for (const std::string& caution : runtime.cautions) std::printf("note: %s\n", caution.c_str());
  std::fflush(stdout);
}

int run_runtime(const RuntimeOptions& options) {
  const cell::RuntimeRequest request{load_of(options), options.cutoff_V, options.hours_per_day, options.temperature_C,
                                     options.fixture_ohm};
  const cell::PublishedCell cell = read_cell_path(options.file);
  const cell::FitSummary fitted = cell::fit(cell);
  const cell::RuntimeAnswer answer = cell::runtime(cell, fitted, request);
  if (!answer.runtime) throw std::runtime_error(options.file + ": " + answer.why_not);
  std::optional<cell::SetDischarged> pair;
  if (options.beside_used_percent) {
    if (answer.runtime->by_peukert)
      throw std::runtime_error(options.file +
                               ": --beside-used-percent wants a curve, and there is none: " + fitted.why_not);
    pair = beside_used(fitted, options);
  }
  if (options.as_json) {
    auto document = document_of(cell, *answer.runtime);
    if (pair) document["beside_used"] = document_of(*pair);
    std::cout << document.dump(2) << "\n";
  } else {
    print_text(*answer.runtime);
    if (pair) print_text(*pair);
  }
  return done;
}

}  // namespace

Command add_runtime(CLI::App& parent) {
  auto options = std::make_shared<RuntimeOptions>();
  CLI::App* app = parent.add_subcommand("runtime", "hours of one fresh cell to a cut-off voltage");
  app->add_option("file", options->file, "a cell file (- is standard input)")->required();
  app->add_option("--current-ma", options->current_mA, "constant current [mA]")->check(between(0.01, 20'000.0));
  app->add_option("--resistance-ohm", options->resistance_ohm, "constant resistance [ohm]")->check(between(0.05, 1e6));
  app->add_option("--power-mw", options->power_mW, "constant power [mW]")->check(between(0.01, 50'000.0));
  app->add_option("--cutoff-v", options->cutoff_V, "of one cell [V]")->required()->check(between(0.1, 12.0));
  app->add_option("--hours-per-day", options->hours_per_day, "under load, in one stretch a day")
      ->check(between(0.01, 24.0))
      ->capture_default_str();
  app->add_option("--temperature-c", options->temperature_C, "of the cell [degrees Celsius]")
      ->check(between(-60.0, 80.0))
      ->capture_default_str();
  app->add_option("--fixture-ohm", options->fixture_ohm,
                  "in series with the cell [ohm], 0 is the bare cell; without it as the rows were published: with the "
                  "source's own holder and contacts")
      ->check(between(0.0, 0.5));
  app->add_option("--beside-used-percent", options->beside_used_percent,
                  "also in series with a cell of the same type that has given so much of its charge [%]")
      ->check(between(0.0, 99.0));
  app->add_flag("--json", options->as_json, "answer as JSON");
  return {app, [options] { return run_runtime(*options); }};
}

}  // namespace cellarer::commands
