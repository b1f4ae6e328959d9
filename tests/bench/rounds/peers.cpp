// SPDX-License-Identifier: MIT
#include "tests/bench/rounds/peers.hpp"

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

#include "model/rounds/grid.hpp"

namespace cellarer::bench {

using namespace cellarer::rounds;

namespace {

std::string variable(std::size_t address, int visit) {
  return "x" + std::to_string(address) + "_" + std::to_string(visit);
}

void sum_of(std::ostream& out, const std::vector<std::string>& names) {
  for (std::size_t i = 0; i < names.size(); ++i) out << (i % 12 == 11 ? "\n + " : " + ") << names[i];
}

bool is_installed(const std::string& program) {
  return std::system(("command -v " + program + " >/dev/null 2>&1").c_str()) == 0;
}

std::string text_of(const std::filesystem::path& path) {
  std::ifstream in(path);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

struct Run {
  std::string log;
  double seconds = 0;
};

/// In a folder of its own that is removed afterwards; `command` speaks of program.lp and answer.txt.
Run run_on(const std::string& program, const std::string& command) {
  std::string form = (std::filesystem::temp_directory_path() / "rounds-bench-XXXXXX").string();
  if (mkdtemp(form.data()) == nullptr) return {};
  const std::filesystem::path folder = form;
  std::ofstream(folder / "program.lp") << program;
  const auto began = std::chrono::steady_clock::now();
  const int code = std::system(("cd '" + folder.string() + "' && " + command + " >log.txt 2>&1").c_str());
  Run run{text_of(folder / "log.txt") + text_of(folder / "answer.txt"),
          std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count()};
  if (code != 0) run.log += "\nended with " + std::to_string(code);
  std::filesystem::remove_all(folder);
  return run;
}

std::optional<double> number_after(const std::string& text, const std::string& words) {
  std::smatch match;
  if (!std::regex_search(text, match, std::regex(words + "\\s*(-?[0-9.]+(e[+-]?[0-9]+)?)"))) return std::nullopt;
  return std::stod(match[1]);
}

}  // namespace

std::string as_program(const PlanInput& input, bool relaxed) {
  const Grid grid = grid_of(input);
  std::ostringstream out;
  std::vector<std::string> all;
  std::vector<std::vector<std::string>> on(grid.columns.size());
  for (std::size_t a = 0; a < grid.addresses.size(); ++a)
    for (int v = 0; v < grid.addresses[a].size(); ++v) {
      all.push_back(variable(a, v));
      on[static_cast<std::size_t>(grid.addresses[a].columns[static_cast<std::size_t>(v)])].push_back(all.back());
    }
  out << "Minimize\n visits:";
  sum_of(out, all);
  out << "\nSubject To\n";
  for (std::size_t a = 0; a < grid.addresses.size(); ++a) {
    std::set<std::pair<int, int>> windows;
    for (const GridNeed& need : grid.addresses[a].needs) windows.emplace(need.first, need.last);
    for (const auto& [first, last] : windows) {
      std::vector<std::string> names;
      for (int v = first; v <= last; ++v) names.push_back(variable(a, v));
      if (names.empty()) continue;
      out << " n" << a << '_' << first << '_' << last << ':';
      sum_of(out, names);
      out << " >= 1\n";
    }
  }
  for (std::size_t c = 0; c < on.size(); ++c) {
    if (on[c].empty()) continue;
    out << " r" << c << ':';
    sum_of(out, on[c]);
    out << " <= " << grid.columns[c].stops << '\n';
  }
  out << "Bounds\n";
  for (const std::string& name : all) out << " 0 <= " << name << " <= 1\n";
  if (!relaxed) {
    out << "Binaries\n";
    for (const std::string& name : all) out << ' ' << name << '\n';
  }
  out << "End\n";
  return out.str();
}

PeerAnswer ask_cbc(const PlanInput& input, int seconds, bool relaxed) {
  PeerAnswer answer{relaxed ? "CBC, relaxed" : "CBC", is_installed("cbc"), false, {}, 0};
  if (!answer.installed) return answer;
  const Run run = run_on(as_program(input, relaxed), "cbc program.lp seconds " + std::to_string(seconds) +
                                                         " ratioGap 0 solve solution answer.txt quit");
  answer.seconds = run.seconds;
  answer.value = number_after(run.log, "[Oo]bjective value:?");
  if (const auto whole = number_after(run.log, "objective value")) answer.value = whole;
  answer.finished = answer.value && run.log.find("Optimal - objective value") != std::string::npos;
  return answer;
}

PeerAnswer ask_glpk(const PlanInput& input, int seconds, bool relaxed) {
  PeerAnswer answer{relaxed ? "GLPK, relaxed" : "GLPK", is_installed("glpsol"), false, {}, 0};
  if (!answer.installed) return answer;
  const Run run = run_on(as_program(input, relaxed), "glpsol --lp program.lp --tmlim " + std::to_string(seconds) +
                                                         (relaxed ? " --nomip" : " --cuts") + " --output answer.txt");
  answer.seconds = run.seconds;
  answer.value = number_after(run.log, "Objective: *visits =");
  answer.finished =
      answer.value && run.log.find("OPTIMAL") != std::string::npos && run.log.find("TIME LIMIT") == std::string::npos;
  return answer;
}

}  // namespace cellarer::bench
