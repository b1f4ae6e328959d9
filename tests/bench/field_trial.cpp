// SPDX-License-Identifier: MIT
// The field trial: simulated households, forecasters tried in them, and how they did against what is to be reached.
// Figures on stdout, progress and errors on stderr; exit code 0 done, 1 failed, 2 not understood.
#include <unistd.h>

#include <fstream>
#include <iostream>
#include <stdexcept>

#include <CLI/CLI.hpp>

#include "server/commands/cell_files.hpp"
#include "tests/bench/ours.hpp"
#include "tests/bench/real_cells.hpp"
#include "tests/bench/report/json_report.hpp"
#include "tests/bench/report/print.hpp"
#include "tests/bench/report/table.hpp"
#include "tests/bench/trial/trial.hpp"
#include "tests/bench/truths.hpp"

namespace {

using namespace cellarer;
using namespace cellarer::bench;

constexpr std::size_t quick_households = 8;

struct Options {
  TrialSize size;
  bool json = false, quick = false, progress = false;
  std::string picture;
};

void read_options(CLI::App& app, Options& options) {
  app.add_option("--seed", options.size.seed, "which households and days are drawn")
      ->check(CLI::Range(std::uint64_t{0}, std::uint64_t{1} << 40))
      ->capture_default_str();
  auto* households =
      app.add_option("--households", options.size.households,
                     "size: households of each run of the reference world, a year each; other runs are parts of it")
          ->check(CLI::Range(quick_households, std::size_t{1000000}))
          ->capture_default_str();
  app.add_flag("--quick", options.quick, "the smallest run, of seconds: too few nights for any verdict")
      ->excludes(households);
  app.add_flag("--json", options.json, "the figures as JSON: fractions, not per cent");
  app.add_option("--picture", options.picture, "also draw the curves into this file (SVG)");
  app.add_flag("--progress", options.progress, "show progress even where standard error is no terminal");
}

int try_it(const Options& options) {
  // Before the long run, which a name that cannot be written would waste.
  std::ofstream picture;
  if (!options.picture.empty()) picture.open(options.picture);
  const auto cannot_write = [&] { return std::runtime_error("cannot write " + options.picture); };
  if (!picture) throw cannot_write();
  const Contestants trial{our_forecaster({}), ours_given_the_truth()};
  TrialResults results;
  RealCells cells;
  {
    Progress progress(work_of(options.size), options.progress || isatty(STDERR_FILENO) != 0);
    results = try_out(trial, options.size, progress);
    progress.now("real cells");
    cells = replay_real_cells(commands::read_cell_folder(options.size.cells_folder.string()));
  }
  if (picture.is_open() && !(picture << picture_of(results)).flush()) throw cannot_write();
  const auto figures = figures_of(results);
  if (options.json) {
    auto document = json_of(results, figures);
    const auto real = to_json(cells);
    document["half_life_error"] = real.at("half_life_error");
    document["real_cells"] = real;
    document["seed"] = options.size.seed;
    document["households"] = options.size.households;
    std::cout << document.dump(2) << '\n';
    return 0;
  }
  auto rows = targets_of(figures);
  for (auto& row : rows) row.enough = row.enough && !options.quick;
  for (auto& row : targets_of(cells)) rows.push_back(std::move(row));
  std::cout << "Field trial, seed " << options.size.seed << ", " << options.size.households
            << " households a run of the reference world, " << number(results.seconds, 0) << " s"
            << (options.quick ? " (quick: too small for verdicts)" : "") << "\n\n";
  print_targets(std::cout, rows);
  print_details(std::cout, results);
  std::cout << "\nReal cells\n\n";
  print(std::cout, cells);
  return 0;
}

}  // namespace

int main(int count, char** values) {
  CLI::App app{"Tries the forecast in simulated households beside its peers, and on measured discharges.",
               "field_trial"};
  Options options;
  options.size.cells_folder = CELLARER_SOURCE_DIR "/data/cells";
  read_options(app, options);
  try {
    app.parse(count, values);
  } catch (const CLI::ParseError& error) {
    return app.exit(error, std::cout, std::cerr) == 0 ? 0 : 2;
  }
  if (options.quick) options.size.households = quick_households;
  try {
    return try_it(options);
  } catch (const std::exception& error) {
    std::cerr << "field_trial: " << error.what() << '\n';
    return 1;
  }
}
