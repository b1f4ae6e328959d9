// SPDX-License-Identifier: MIT
#include "server/profiles/stimulator_file.hpp"

#include <algorithm>
#include <fstream>
#include <sstream>

namespace cellarer {

using json::Field;
using json::Refused;

namespace {

constexpr double lowest_V_a_cell = 0.3, highest_V_a_cell = 1.7;

double number_or(const Field& object, const char* name, double lowest, double highest, double otherwise) {
  const auto field = object.find(name);
  return field ? field->number(lowest, highest) : otherwise;
}

/// Ids stand in addresses and file names: small letters, digits and hyphens.
std::string read_id(const Field& field) {
  const std::string id = field.text(64);
  const bool plain = std::all_of(id.begin(), id.end(),
                                 [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; });
  if (!plain || id.front() == '-') {
    field.refuse("out-of-range", "expected small letters, digits and hyphens, such as stepped-linear");
  }
  return id;
}

duty::SideElectronics read_side(const Field& side) {
  duty::SideElectronics made;
  made.burst_base_mA = side["burst_base_mA"].number(0, 1000);
  made.burst_slope_mA = side["burst_slope_mA"].number(0, 1000);
  made.reference_amplitude = side["reference_amplitude"].number(1e-3, 1e4);
  made.exponent = number_or(side, "exponent", 0.2, 4, 1);
  made.rest_mA = side["rest_mA"].number(0, 1000);
  made.standby_mA = side["standby_mA"].number(0, 1000);
  made.off_mA = side["off_mA"].number(0, 100);
  const double burst_mA = made.burst_base_mA + made.burst_slope_mA;
  if (!(burst_mA > 0))
    side.refuse("out-of-range", "burst_base_mA and burst_slope_mA are both 0: a burst draws current");
  if (made.rest_mA > burst_mA) {
    side["rest_mA"].refuse("out-of-range",
                           "is above the burst at the reference amplitude: between bursts less is drawn");
  }
  return made;
}

/// Both columns fall, so that each percentage is one voltage and back.
std::vector<std::pair<double, double>> read_gauge_points(const Field& field) {
  std::vector<std::pair<double, double>> points;
  for (const Field& point : field.elements(101)) {
    const auto pair = point.elements(2);
    if (pair.size() != 2)
      point.refuse("wrong-type", "expected a pair: percent and volts of the set, such as [50, 2.42]");
    const std::pair<double, double> next{pair[0].number(0, 100), pair[1].number(0, 20)};
    if (!points.empty() && !(next.first < points.back().first)) {
      pair[0].refuse("out-of-range", "is not below the percentage before it: points go from full to empty");
    }
    if (!points.empty() && !(next.second < points.back().second)) {
      pair[1].refuse("out-of-range", "is not below the voltage before it: a lower percentage has a lower voltage");
    }
    points.push_back(next);
  }
  if (points.size() < 2) field.refuse("out-of-range", "has fewer than two points");
  return points;
}

duty::Gauge read_gauge(const Field& gauge) {
  duty::Gauge made;
  if (const auto steps = gauge.find("steps")) made.steps = steps->integer(2, 20);
  made.volts_at_percent = read_gauge_points(gauge["volts_at_percent"]);
  made.noise_points = number_or(gauge, "noise_points", 0.1, 30, made.noise_points);
  made.bias_points = number_or(gauge, "bias_points", 0, 30, made.bias_points);
  if (const auto high = gauge.find("reads_high_after_on")) made.reads_high_after_on = high->boolean();
  if (const auto latches = gauge.find("latches")) made.latches = latches->boolean();
  return made;
}

/// Volts at a percentage, by straight lines; the end lines go on.
double gauge_V(const duty::Gauge& gauge, double percent) {
  const auto& points = gauge.volts_at_percent;
  std::size_t i = 1;
  while (i + 1 < points.size() && points[i].first > percent) ++i;
  const auto& [upper_percent, upper_V] = points[i - 1];
  const auto& [lower_percent, lower_V] = points[i];
  return lower_V + (percent - lower_percent) * (upper_V - lower_V) / (upper_percent - lower_percent);
}

std::string read_whole(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  if (!file) throw Refused("unreadable", path.filename().string(), "cannot be read");
  return text.str();
}

std::vector<std::filesystem::path> json_files(const std::filesystem::path& folder) {
  std::error_code error;
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(folder, error)) {
    if (entry.path().extension() == ".json") files.push_back(entry.path());
  }
  if (error) throw Refused("unreadable", folder.string(), "is not a folder that can be read: " + error.message());
  std::sort(files.begin(), files.end());
  return files;
}

}  // namespace

duty::Stimulator read_stimulator(const Field& profile) {
  duty::Stimulator made;
  made.id = read_id(profile["id"]);
  made.basis = profile["basis"].text(40);
  if (const auto cells = profile.find("cells_in_series")) made.cells_in_series = cells->integer(1, 8);
  const double lowest_V = lowest_V_a_cell * made.cells_in_series, highest_V = highest_V_a_cell * made.cells_in_series;
  made.cutoff_V = profile["cutoff_V"].number(lowest_V, highest_V);
  made.reference_V = profile["reference_V"].number(lowest_V, highest_V);
  // The words in the order of the enumeration.
  made.converter = static_cast<duty::Converter>(
      profile["converter"].word({"constant_current", "constant_power", "constant_resistance"}));
  made.left = read_side(profile["left"]);
  made.right = read_side(profile["right"]);
  made.relative_sd = number_or(profile, "relative_sd", 0, 0.5, made.relative_sd);
  made.burst_seen = number_or(profile, "burst_seen", 0, 1, made.burst_seen);
  made.gauge = read_gauge(profile["gauge"]);
  made.warning_percent = profile["warning_percent"].number(0, 100);
  if (made.cutoff_V >= gauge_V(made.gauge, made.warning_percent)) {
    profile["cutoff_V"].refuse(
        "out-of-range", "is not below the set's voltage at warning_percent: the unit would stop before it warns");
  }
  return made;
}

std::vector<std::string> Handling::shown() const {
  if (approved) return steps;
  return {"Follow the maker's card; wearer awake or on the backup."};
}

Handling read_handling(const Field& profile) {
  Handling made;
  const auto handling = profile.find("handling");
  if (!handling) return made;
  made.approved = (*handling)["approved"].boolean();
  if (const auto source = handling->find("source")) made.source = source->text(200);
  if (const auto date = handling->find("date")) {
    made.date = date->text(10);
    if (!json::parse_rfc3339(made.date + "T00:00:00Z"))
      date->refuse("wrong-type", "expected a date such as 2026-03-01");
  }
  if (const auto steps = handling->find("steps")) {
    for (const Field& step : steps->elements(30)) made.steps.push_back(step.text(300));
  }
  if (made.approved && (made.source.empty() || made.date.empty() || made.steps.empty())) {
    handling->refuse("missing", "approved steps need their source, date and at least one step");
  }
  return made;
}

StimulatorLibrary::StimulatorLibrary(const std::filesystem::path& folder) {
  for (const auto& path : json_files(folder)) {
    const std::string name = path.filename().string();
    try {
      const auto document = json::parse(read_whole(path));
      const Field profile(document, "");
      Entry entry{read_stimulator(profile), read_handling(profile)};
      const std::string id = entry.stimulator.id;
      if (!entries_.emplace(id, std::move(entry)).second) {
        profile["id"].refuse("duplicate", "is the id of another profile too: " + id);
      }
    } catch (const Refused& refused) {
      if (refused.code() == "unreadable") throw;
      throw Refused(refused.code(), name + refused.place(), refused.reason());
    }
  }
}

std::optional<duty::Stimulator> StimulatorLibrary::find(const std::string& id) const {
  const auto found = entries_.find(id);
  return found == entries_.end() ? std::nullopt : std::optional(found->second.stimulator);
}

std::optional<Handling> StimulatorLibrary::handling(const std::string& id) const {
  const auto found = entries_.find(id);
  return found == entries_.end() ? std::nullopt : std::optional(found->second.handling);
}

std::vector<std::string> StimulatorLibrary::ids() const {
  std::vector<std::string> ids;
  for (const auto& [id, entry] : entries_) ids.push_back(id);
  return ids;
}

}  // namespace cellarer
