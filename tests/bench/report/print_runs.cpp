// SPDX-License-Identifier: MIT
#include "tests/bench/report/print_runs.hpp"

#include <ostream>

#include "tests/bench/report/table.hpp"

namespace cellarer::bench {

void print_runs(std::ostream& out, const std::string& title, const std::vector<NamedRun>& runs) {
  out << '\n' << title << "\n\n";
  Table table({"world", "side-nights", "wasted", "sets a year", "run-outs", "per million", "95 % bound",
               "warnings /1000", "a wearer-year"});
  for (const auto& run : runs) {
    const auto& tally = run.scores.tally;
    table.add({run.name + (run.missed ? ", 5 % missed" : ""), number(tally.side_nights(), 0),
               percent(tally.charge_wasted()), number(tally.sets_per_wearer_year(), 1), whole(tally.run_outs()),
               brief(tally.run_outs_per_million_side_nights()), brief(tally.bound_per_million_side_nights()),
               number(tally.warnings_per_thousand_side_nights(), 2), number(tally.warnings_per_wearer_year(), 2)});
  }
  table.print(out);
}

void print_causes(std::ostream& out, const std::string& title, const std::vector<NamedRun>& runs) {
  out << '\n' << title << "; in brackets the 95 % bound of the cause, per million side-nights\n\n";
  std::vector<std::string> heads{"sets that came out"};
  for (const auto& run : runs) heads.push_back(run.name + (run.missed ? ", missed" : ""));
  Table table(heads);
  for (std::size_t i = 0; i < set_end_count; ++i) {
    const auto end = static_cast<SetEnd>(i);
    std::vector<std::string> row{name_of(end)};
    for (const auto& run : runs) {
      const auto& tally = run.scores.tally;
      row.push_back(whole(tally.ended(end)) +
                    (is_stop(end) ? " (" + brief(tally.bound_per_million_side_nights(end)) + ")" : ""));
    }
    table.add(std::move(row));
  }
  table.print(out);
}

void print_plans(std::ostream& out, const std::vector<NamedRun>& runs) {
  out << "\nWhat a plan is worth to ours: the reference world, percent gauge, with six spells a year of two to nine "
         "days"
         " in which sides pace\n2 to 8 h a day longer; default policy, the same homes and spells\n\n";
  Table table({"the spells are", "wasted", "run-outs", "per million", "95 % bound", "warnings /1000", "CRPS"});
  for (const auto& run : runs) {
    const auto& tally = run.scores.tally;
    table.add({run.name, percent(tally.charge_wasted()), whole(tally.run_outs()),
               brief(tally.run_outs_per_million_side_nights()), brief(tally.bound_per_million_side_nights()),
               number(tally.warnings_per_thousand_side_nights(), 2),
               number(run.scores.beliefs.front().mean_crps_h(), 2) + " h"});
  }
  table.print(out);
}

}  // namespace cellarer::bench
