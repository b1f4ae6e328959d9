// SPDX-License-Identifier: MIT
// runtime: hours of one cell under one steady load.
#include <cstdio>
#include <iostream>
#include <memory>
#include <optional>
#include <stdexcept>

#include <nlohmann/json.hpp>

#include "model/cell/runtime.hpp"
#include "server/commands/cell_files.hpp"
#include "server/commands/command.hpp"

namespace cellarer::commands {

namespace {

struct Options {
  std::string file;
  std::optional<double> current_mA, resistance_ohm, power_mW;
  double cutoff_V = 0, hours_per_day = 24, temperature_C = 21;
  bool as_json = false;
};

cell::Load load_of(const Options& options) {
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
          {"days", runtime.days},
          {"capacity_mAh", runtime.capacity_mAh},
          {"method", runtime.by_peukert ? "peukert" : "curve"},
          {"inside_published_range", runtime.inside_range},
          {"cautions", runtime.cautions}};
}

void print_text(const cell::Runtime& runtime) {
  std::printf("%.4g h under load, 90 %% between %.4g and %.4g h (%.4g mAh, %.4g days)\n", runtime.hours,
              runtime.hours_low, runtime.hours_high, runtime.capacity_mAh, runtime.days);
  for (const std::string& caution : runtime.cautions) std::printf("note: %s\n", caution.c_str());
  std::fflush(stdout);
}

int run_runtime(const Options& options) {
  const cell::RuntimeRequest request{load_of(options), options.cutoff_V, options.hours_per_day, options.temperature_C};
  const cell::PublishedCell cell = read_cell_path(options.file);
  const cell::RuntimeAnswer answer = cell::runtime(cell, cell::fit(cell), request);
  if (!answer.runtime) throw std::runtime_error(options.file + ": " + answer.why_not);
  if (options.as_json)
    std::cout << document_of(cell, *answer.runtime).dump(2) << "\n";
  else
    print_text(*answer.runtime);
  return done;
}

}  // namespace

Command add_runtime(CLI::App& parent) {
  auto options = std::make_shared<Options>();
  CLI::App* app = parent.add_subcommand("runtime", "hours of one fresh cell to a cut-off voltage");
  app->add_option("file", options->file, "a cell file (- is standard input)")->required();
  app->add_option("--current-ma", options->current_mA, "constant current [mA]")->check(CLI::Range(0.01, 20'000.0));
  app->add_option("--resistance-ohm", options->resistance_ohm, "constant resistance [ohm]")
      ->check(CLI::Range(0.05, 1e6));
  app->add_option("--power-mw", options->power_mW, "constant power [mW]")->check(CLI::Range(0.01, 50'000.0));
  app->add_option("--cutoff-v", options->cutoff_V, "of one cell [V]")->required()->check(CLI::Range(0.1, 12.0));
  app->add_option("--hours-per-day", options->hours_per_day, "under load, in one stretch a day")
      ->check(CLI::Range(0.01, 24.0))
      ->capture_default_str();
  app->add_option("--temperature-c", options->temperature_C, "of the cell [degrees Celsius]")
      ->check(CLI::Range(-60.0, 80.0))
      ->capture_default_str();
  app->add_flag("--json", options->as_json, "answer as JSON");
  return {app, [options] { return run_runtime(*options); }};
}

}  // namespace cellarer::commands
