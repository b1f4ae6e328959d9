// SPDX-License-Identifier: MIT
// A reforecast of more homes than it writes at a time, killed in the midst and begun again.
#include <algorithm>
#include <fstream>

#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

constexpr std::size_t homes_reforecast = 1200;  // it writes 500 at a time

/// A line of the file that `cellarer load` reads: one side is paced, with cells since yesterday and a reading.
std::string home_line(std::size_t number) {
  constexpr long a_day = 86400;
  const auto before = from_now(-2 * a_day), yesterday = from_now(-a_day), today = from_now(-3600);
  auto entries = json::array();
  const auto add = [&](const char* kind, const std::string& at, const json& body) {
    entries.push_back({{"kind", kind}, {"at", at}, {"recorded_at", at}, {"body", body}});
  };
  add("unit", before, {{"serial", "u-1"}, {"stimulator", "percent-power"}, {"from", before}});
  add("settings", before,
      {{"from", before}, {"side", "left"}, {"rate_per_min", 12}, {"inspiratory_fraction", 0.28}, {"amplitude", 4.0}});
  add("cell_change", yesterday,
      {{"at", yesterday}, {"side", "left"}, {"reason", "planned"}, {"cells", {{"profile", "lr6-family"}}}});
  add("reading", today, {{"at", today}, {"side", "left"}, {"percent", 80}});
  const json household{{"household", "h-" + std::to_string(number)}, {"zone", "UTC"}, {"changing_times", {"21:30"}}};
  return json{{"household", household}, {"recorded_at", before}, {"entries", entries}}.dump();
}

/// Those that have their end.
std::vector<std::string> sorted_lines(const std::string& file) {
  std::ifstream stream(file);
  std::vector<std::string> lines;
  for (std::string one; std::getline(stream, one) && !stream.eof();) lines.push_back(one);
  std::sort(lines.begin(), lines.end());
  return lines;
}

}  // namespace

// Identity: killed and begun again, it leaves the lines of a run that nobody disturbed, each once.
TEST_CASE("a reforecast that was killed goes on where it was: nothing is lost, and nothing is there twice",
          "[command]") {
  const TemporaryFolder folder;
  const auto in = [&](const char* name) { return (folder.path() / name).string(); };
  {
    std::ofstream file(in("homes.jsonl"));
    for (std::size_t i = 0; i < homes_reforecast; ++i) file << home_line(i) << "\n";
  }
  const auto loaded = run_cellarer({"load", "--data", in("data"), in("homes.jsonl"), "--json"});
  INFO(loaded.err);
  REQUIRE(loaded.code == 0);
  const auto now = from_now(0);
  const auto reforecast = [&](const char* out) {
    return std::vector<std::string>{"reforecast", "--data", in("data"), "--profiles", delivered_profiles,
                                    "--out",      in(out),  "--at",     now,          "--threads",
                                    "1",          "--json"};
  };
  const auto size_of_out = [&] {
    std::error_code none;
    const auto size = std::filesystem::file_size(in("killed.jsonl"), none);
    return none ? 0 : size;
  };
  // A line that was begun is no home's forecast yet, and is not kept.
  const auto has_a_line = [&] { return !sorted_lines(in("killed.jsonl")).empty(); };
  const auto killed = kill_cellarer(reforecast("killed.jsonl"), has_a_line);
  REQUIRE(killed.code == -1);  // a signal ended it, before its end
  const auto left = size_of_out();
  REQUIRE(left > 0);

  const auto again = run_cellarer(reforecast("killed.jsonl"));
  INFO(again.err);
  REQUIRE(again.code == 0);
  const auto said = json::parse(again.out);
  const auto kept = said["kept"].get<std::size_t>(), computed = said["computed"].get<std::size_t>();
  CHECK(kept > 0);
  CHECK(computed > 0);
  CHECK(kept + computed == homes_reforecast);
  CHECK(std::filesystem::file_size(in("killed.jsonl")) > left);

  const auto undisturbed = run_cellarer(reforecast("undisturbed.jsonl"));
  REQUIRE(undisturbed.code == 0);
  CHECK(json::parse(undisturbed.out)["computed"] == homes_reforecast);
  const auto lines = sorted_lines(in("killed.jsonl"));
  CHECK(lines.size() == homes_reforecast);
  CHECK(lines == sorted_lines(in("undisturbed.jsonl")));
}
