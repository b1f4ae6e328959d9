// SPDX-License-Identifier: MIT
// Simulated faults: what the technician's review finds, how soon, how often it is wrong, and which cause it names.
// Figures on stdout, progress and errors on stderr; exit code 0 done, 1 failed, 2 not understood.
#include <unistd.h>

#include <iostream>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "tests/bench/faults/fault_figures.hpp"
#include "tests/bench/faults/further_scenarios.hpp"
#include "tests/bench/report/progress.hpp"
#include "tests/bench/report/table.hpp"

namespace {

using namespace cellarer;
using namespace cellarer::bench;

nlohmann::json json_of(const Share& share) {
  return {{"share", share.value()}, {"hits", share.hits}, {"tried", share.tried}};
}

nlohmann::json json_of(const DetectionFigures& figures) {
  return {{"set_sd", figures.set_sd},
          {"within_4_sets", json_of(figures.within_4)},
          {"within_8_sets", json_of(figures.within_8)},
          {"false_findings_per_healthy_set", json_of(figures.false_findings)},
          {"left_out", figures.open_before}};
}

nlohmann::json json_of(const FurtherFigures& figures) {
  return {{"drift_within_8_sets", json_of(figures.drift_within_8)},
          {"drift_within_12_sets", json_of(figures.drift_within_12)},
          {"asymmetry_within_4_sets", json_of(figures.asymmetry_within_4)},
          {"asymmetry_within_8_sets", json_of(figures.asymmetry_within_8)},
          {"drift_called_so", json_of(figures.drift_called_so)},
          {"asymmetry_called_so", json_of(figures.asymmetry_called_so)},
          {"drift_cannot_tell", json_of(figures.drift_cannot_tell)},
          {"asymmetry_cannot_tell", json_of(figures.asymmetry_cannot_tell)},
          {"units_found", json_of(figures.units_found)},
          {"units_falsely_accused", json_of(figures.false_units)}};
}

nlohmann::json json_of(const FaultFigures& figures) {
  nlohmann::json causes = nlohmann::json::array();
  for (const auto& row : figures.causes) {
    causes.push_back({{"scenario", row.scenario},
                      {"evidence_allows", row.evidence_allows},
                      {"homes", row.homes},
                      {"named_right", json_of(row.right)},
                      {"cannot_tell", json_of(row.cannot_tell)}});
  }
  return {{"use_up_10_percent", {json_of(figures.four_percent), json_of(figures.six_percent)}},
          {"lots_found", json_of(figures.lots_found)},
          {"lots_falsely_condemned", json_of(figures.false_lots)},
          {"range_holds_truth_of_lot_12_percent_short", json_of(figures.range_of_12)},
          {"range_holds_truth_of_lot_20_percent_short", json_of(figures.range_of_20)},
          {"named_right_where_evidence_allows", json_of(figures.named_right)},
          {"cannot_tell_where_not", json_of(figures.told_cannot)},
          {"right_of_all_named", json_of(figures.right_of_named)},
          {"causes", causes}};
}

void print(const FaultFigures& figures) {
  Table table({"fault", "to reach", "found", ""});
  for (const auto& row : rows_of(figures))
    table.add({row.what, row.target, row.found, !row.enough ? "too few" : row.met ? "met" : "not met"});
  table.print(std::cout);
  std::cout << "\nHomes left out because a false finding of that side stood when the fault began: "
            << figures.four_percent.open_before << " and " << figures.six_percent.open_before << "\n\nCauses\n\n";
  Table causes({"fault, and what was looked at", "found in", "named right", "cannot tell"});
  for (const auto& row : figures.causes) {
    causes.add({row.scenario, std::to_string(row.right.tried) + " of " + std::to_string(row.homes),
                percent(row.right.value()), percent(row.cannot_tell.value())});
  }
  causes.print(std::cout);
}

void print(const FurtherFigures& figures) {
  const auto of = [](const Share& share) { return percent(share.value()); };
  std::cout << "\nFurther faults, without targets\n\n";
  Table table({"fault", "found"});
  table.add({"use of a side grows by 10 % in 90 days: found within 8 / 12 sets",
             of(figures.drift_within_8) + " / " + of(figures.drift_within_12)});
  table.add({"a side uses 35 % more from its first set on: found within 4 / 8 sets",
             of(figures.asymmetry_within_4) + " / " + of(figures.asymmetry_within_8)});
  table.add({"a unit draws 15 % more, 3 homes with 2 sets a side each: found", of(figures.units_found)});
  table.add({"healthy units that moved likewise: falsely accused", of(figures.false_units)});
  table.print(std::cout);
}

}  // namespace

int main(int count, char** values) {
  CLI::App app{"Tries the review on simulated faults: how soon it finds them, and how often it is wrong.",
               "fault_trial"};
  FaultTrialSize size;
  bool json = false, progress = false;
  app.add_option("--seed", size.seed, "which homes are drawn; 1 to 9 were used to choose the limits")
      ->check(CLI::Range(std::uint64_t{0}, std::uint64_t{1} << 40))
      ->capture_default_str();
  app.add_option("--homes", size.homes, "size: homes, and lots, of each row")
      ->check(CLI::Range(4, 1000000))
      ->capture_default_str();
  app.add_flag("--json", json, "the figures as JSON: fractions, not per cent");
  app.add_flag("--progress", progress, "show progress even where standard error is no terminal");
  try {
    app.parse(count, values);
  } catch (const CLI::ParseError& error) {
    return app.exit(error, std::cout, std::cerr) == 0 ? 0 : 2;
  }
  try {
    FaultFigures figures;
    FurtherFigures further;
    {
      Progress bar(work_of(size) + work_of_further(size), progress || isatty(STDERR_FILENO) != 0);
      figures = try_faults(size, [&](double work) { bar.done(work); });
      further = try_further(size, [&](double work) { bar.done(work); });
    }
    if (json) {
      auto document = json_of(figures);
      document["further"] = json_of(further);
      document["seed"] = size.seed;
      document["homes"] = size.homes;
      std::cout << document.dump(2) << '\n';
      return 0;
    }
    std::cout << "Simulated faults, seed " << size.seed << ", " << size.homes << " homes a row\n\n";
    print(figures);
    print(further);
    return 0;
  } catch (const std::exception& error) {
    std::cerr << "fault_trial: " << error.what() << '\n';
    return 1;
  }
}
