// SPDX-License-Identifier: MIT
#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "model/cell/fit.hpp"
#include "model/duty/depth_table.hpp"
#include "server/profiles/cell_file.hpp"
#include "server/profiles/stimulator_file.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
namespace fs = std::filesystem;

namespace {

const fs::path shipped = fs::path(CELLARER_SOURCE_DIR) / "data" / "stimulators";

std::string whole(const fs::path& path) {
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  return text.str();
}

/// A folder of its own for one test, gone afterwards.
class Folder {
 public:
  explicit Folder(const char* name) : path_(fs::path(CELLARER_BINARY_DIR) / "stimulator-library" / name) {
    fs::remove_all(path_);
    fs::create_directories(path_);
  }
  ~Folder() { fs::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  void write(const char* name, const std::string& text) const { std::ofstream(path_ / name) << text; }
  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

std::string place_of_refusal(const fs::path& folder) {
  try {
    const StimulatorLibrary library(folder);
    return "none";
  } catch (const json::Refused& refused) {
    return refused.code() + " at " + refused.place();
  }
}

/// What the gauge would show at a voltage, by straight lines between its points.
double percent_at(const duty::Gauge& gauge, double set_V) {
  const auto& points = gauge.volts_at_percent;
  std::size_t i = 1;
  while (i + 1 < points.size() && points[i].second > set_V) ++i;
  const double slope = (points[i - 1].first - points[i].first) / (points[i - 1].second - points[i].second);
  return points[i].first + slope * (set_V - points[i].second);
}

/// One side with cells of data/cells fitted as they are, at 12 breaths a minute of 1.4 s.
struct Worn {
  duty::Stimulator unit;
  cell::Curve curve;
  duty::BreathLoad load;
  duty::DepthTable table;
  double cutoff_mAh;

  Worn(const duty::Stimulator& stimulator, cell::Curve fitted, double amplitude)
      : unit(stimulator),
        curve(fitted),
        load(duty::pacing_load(unit.left, settings(amplitude))),
        table(unit, curve, load, 1),
        cutoff_mAh(table.charge_to(duty::cutoff_depth(unit, curve, load, 1))) {}

  static duty::Settings settings(double amplitude) {
    duty::Settings made;
    made.inspiratory_fraction = 12 * 1.4 / 60;
    made.amplitude = amplitude;
    return made;
  }
  double days(double paced_h) const {
    return cutoff_mAh / (paced_h * load.mean_mA() + (24 - paced_h) * unit.left.standby_mA);
  }
  double percent_with_left(double life_left) const {
    const double depth = table.depth_after(cutoff_mAh * (1 - life_left));
    return percent_at(unit.gauge, duty::pacing_V(unit, curve, load, 1, depth));
  }
};

std::vector<cell::Curve> some_measured_cells() {
  std::vector<cell::Curve> curves;
  for (const char* id : {"lr6-duracell-procell", "lr6-coop-prix-garantie", "lr6-varta-long-life"}) {
    const fs::path path = fs::path(CELLARER_SOURCE_DIR) / "data" / "cells" / (std::string(id) + ".json");
    curves.push_back(cell::fit(read_cell_file(whole(path))).curve);
  }
  return curves;
}

}  // namespace

TEST_CASE("the two profiles that are shipped are invented, say so, and differ in nature") {
  const StimulatorLibrary library(shipped);
  CHECK(library.ids() == std::vector<std::string>{"percent-power", "stepped-linear"});
  const auto percent = library.find("percent-power"), stepped = library.find("stepped-linear");
  REQUIRE((percent && stepped));
  CHECK(percent->basis == "invented");
  CHECK(stepped->basis == "invented");
  CHECK_FALSE(percent->gauge.steps);
  CHECK(percent->converter == duty::Converter::constant_power);
  CHECK(stepped->gauge.steps == 5);
  CHECK(stepped->converter == duty::Converter::constant_current);
  CHECK_FALSE(library.handling("percent-power")->approved);
}

TEST_CASE("a set of measured cells lasts one to three weeks at common settings with either shipped profile") {
  const StimulatorLibrary library(shipped);
  for (const cell::Curve& curve : some_measured_cells()) {
    const Worn percent(*library.find("percent-power"), curve, 4.0);
    CHECK(percent.days(24) > 7.5);
    CHECK(percent.days(10) < 21);
    const Worn stepped(*library.find("stepped-linear"), curve, 4.0);
    CHECK(stepped.days(10) > 10);
    CHECK(stepped.days(10) < 15);
  }
}

TEST_CASE("a shipped gauge falls with the life that is left, within ten points, and warns in time") {
  const StimulatorLibrary library(shipped);
  for (const cell::Curve& curve : some_measured_cells()) {
    for (const std::string& id : library.ids()) {
      const Worn worn(*library.find(id), curve, 4.0);
      INFO(id);
      for (const double left : {1.0, 0.9, 0.75, 0.5, 0.25, 0.1, 0.05, 0.0}) {
        CHECK(worn.percent_with_left(left) == Approx(100 * left).margin(10));
      }
      // at least half a day before the end of ten-hour nights, at most a fifth of the life
      CHECK(worn.percent_with_left(0.05) < worn.unit.warning_percent);
      CHECK(worn.percent_with_left(0.2) > worn.unit.warning_percent);
    }
  }
}

TEST_CASE("an id that no profile has is not found") {
  const StimulatorLibrary library(shipped);
  CHECK_FALSE(library.find("nothing-of-the-kind"));
  CHECK_FALSE(library.handling("nothing-of-the-kind"));
}

TEST_CASE("a refusal names the file, the place in it and the reason") {
  const Folder folder("refused");
  auto document = nlohmann::json::parse(whole(shipped / "stepped-linear.json"));
  document["gauge"]["noise_points"] = -4;
  folder.write("bent.json", document.dump());
  CHECK(place_of_refusal(folder.path()) == "out-of-range at bent.json/gauge/noise_points");
  folder.write("bent.json", "{ \"id\": ");
  CHECK(place_of_refusal(folder.path()) == "not-json at bent.json");
}

TEST_CASE("two files with one id are refused, and so is a folder that is not there") {
  const Folder folder("twice");
  folder.write("a.json", whole(shipped / "stepped-linear.json"));
  folder.write("b.json", whole(shipped / "stepped-linear.json"));
  CHECK(place_of_refusal(folder.path()) == "duplicate at b.json/id");
  CHECK(place_of_refusal(folder.path() / "missing").rfind("unreadable at ", 0) == 0);
}

TEST_CASE("files that are not JSON documents are left alone in a folder of profiles") {
  const Folder folder("mixed");
  folder.write("README.md", "not a profile");
  CHECK(StimulatorLibrary(folder.path()).ids().empty());
}
