// SPDX-License-Identifier: MIT
/// What is printed and drawn of a trial: verdicts by the targets, names beside their lines, lines within the frame.
#include <regex>
#include <sstream>

#include "tests/bench/report/curve_picture.hpp"
#include "tests/bench/report/label_places.hpp"
#include "tests/bench/report/print_runs.hpp"
#include "tests/bench/report/verdicts.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::bench;

namespace {

std::string verdict_of(const Figures& figures, const std::string& what) {
  for (const auto& row : targets_of(figures)) {
    if (row.what == what) return row.verdict();
  }
  return "no such target";
}

/// The points of every polyline of a picture.
std::vector<std::vector<PicturePoint>> lines_of(const std::string& svg) {
  const std::regex polyline("<polyline [^>]*points=\"([^\"]*)\""), point("(-?[0-9.]+),(-?[0-9.]+)");
  std::vector<std::vector<PicturePoint>> lines;
  for (auto line = std::sregex_iterator(svg.begin(), svg.end(), polyline); line != std::sregex_iterator(); ++line) {
    const std::string points = (*line)[1];
    auto& into = lines.emplace_back();
    for (auto one = std::sregex_iterator(points.begin(), points.end(), point); one != std::sregex_iterator(); ++one) {
      into.emplace_back(std::stod((*one)[1]), std::stod((*one)[2]));
    }
  }
  return lines;
}

}  // namespace

TEST_CASE("a verdict holds a figure against its target, and says where nights are too few") {
  // The targets themselves: waste at most 20 / 22 %, run-outs at most 1 in a million over at least 3 million nights.
  Figures figures;
  figures.waste_percent_gauge = 0.20;
  figures.waste_five_steps = 0.22;
  figures.run_outs_per_million_kept = 0.9;
  figures.side_nights_kept = 2.9e6;
  const std::string waste = "charge wasted, percent gauge / 5 steps";
  const std::string run_outs = "run-outs per million side-nights, times kept";
  CHECK(verdict_of(figures, waste) == "met");
  CHECK(verdict_of(figures, run_outs) == "too few");
  figures.waste_five_steps = 0.221;
  figures.side_nights_kept = 3e6;
  CHECK(verdict_of(figures, waste) == "not met");
  CHECK(verdict_of(figures, run_outs) == "met");
  figures.run_outs_per_million_kept = 1.1;
  CHECK(verdict_of(figures, run_outs) == "not met");
}

TEST_CASE("run-outs that are counted are too few for a verdict below fifty") {
  Figures figures;
  const std::string counted = "waste at equal counted run-outs, over the best possible";
  figures.over_best_many.counted = 1.09;
  figures.over_best_many.run_outs_expected = 49;
  CHECK(verdict_of(figures, counted) == "too few");
  figures.over_best_many.run_outs_expected = 90;
  CHECK(verdict_of(figures, counted) == "met");
  // At most 1.10 is asked of it, as of the same by accepted risk.
  figures.over_best_many.counted = 1.11;
  CHECK(verdict_of(figures, counted) == "not met");
  // Nothing is asked of specimens twice as far apart.
  CHECK(verdict_of(figures, "coverage where specimens are twice as far apart, lowest / highest slice").empty());
}

TEST_CASE("why sets came out is said with the bound of each cause of a stop") {
  NamedRun run{"invented", false, Scores({})};
  const Instant start{};
  run.scores.tally.set_ended({0, Side::left, start, start, SetEnd::planned, 0.2});
  run.scores.tally.set_ended({0, Side::left, start, start, SetEnd::wrong_side, 0});
  Evening night{};
  night.next = night.at + std::chrono::hours(24 * 1000);
  run.scores.tally.evening(night);
  std::ostringstream out;
  print_causes(out, "Why", {run});
  // Poisson, 95 %: 4.74 where one was seen, 3.00 where none was (Particle Data Group), of a thousand nights.
  CHECK_THAT(out.str(), testing::holds("recorded on the wrong side") && testing::holds("1 (4.74e+03)"));
  CHECK_THAT(out.str(), testing::holds("0 (3e+03)") && !testing::holds("1 (3"));
}

TEST_CASE("what lies beyond the axis is cut off at its ends, and the highest waste has room") {
  // In powers of ten 1e-5 lies as far before 0.01 as 10 behind it: half way from 80 to 20 %.
  const PicturePanel panel{"invented", {{"a", PictureCurve::Ink::peer, {{1e-5, 0.80}, {10, 0.20}, {1e6, 0.10}}}}};
  const PicturePanel flat{"invented", {{"b", PictureCurve::Ink::ours, {{0, 0.55}, {1e4, 0.55}}}}};
  const auto lines = lines_of(curve_picture("invented", {panel, flat}));
  REQUIRE(lines.size() == 2);
  REQUIRE(lines[0].size() == 3);
  const double right = lines[1].back().first, at_55_percent = lines[1].front().second;
  CHECK(lines[1].front().first == 0);
  CHECK(lines[0].front().first == 0);
  CHECK(lines[0].back().first == right);
  CHECK(lines[0][1].first == Approx(right * 3 / 5).margin(0.1));  // 10 is the third power of five after 0.01
  // Upwards to 60 %, the next tenth above 55 %; 50 % where the first line comes in.
  CHECK(at_55_percent > 0);
  CHECK(lines[0].front().second == Approx(at_55_percent * 2).margin(0.2));
}

TEST_CASE("a name stands beside its line, off every other line and name, within the frame") {
  // Three lines that fall side by side, as near as names leave room for.
  std::vector<NamedLine> lines;
  for (const double above : {0.0, 40.0, 70.0}) lines.push_back({"a name", {{0, 60 + above}, {280, 160 + above}}});
  const auto places = label_places(lines, 288, 300);
  REQUIRE(places.size() == 3);
  for (std::size_t i = 0; i < places.size(); ++i) {
    CHECK(places[i].left >= 0);
    CHECK(places[i].right <= 288);
    CHECK(places[i].top >= 0);
    CHECK(places[i].bottom <= 300);
    for (std::size_t j = 0; j < lines.size(); ++j) {
      for (const auto& point : along(lines[j].points)) CHECK_FALSE(places[i].holds(point));
      if (j != i) CHECK_FALSE(places[i].meets(places[j]));
    }
  }
}
