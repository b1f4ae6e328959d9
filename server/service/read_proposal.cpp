// SPDX-License-Identifier: MIT
#include "server/service/read_proposal.hpp"

#include <cstdlib>

#include "server/profiles/cell_file.hpp"
#include "server/profiles/cell_table.hpp"
#include "server/profiles/stimulator_file.hpp"
#include "server/service/facts.hpp"

namespace cellarer::service {

using json::Field;

namespace {

/// "/discharges/3/hours": the line of the table that became that discharge.
std::optional<int> line_of(const std::string& place, const std::vector<int>& lines) {
  const std::string begins = "/discharges/";
  if (!place.starts_with(begins)) return std::nullopt;
  const auto index = std::strtoul(place.c_str() + begins.size(), nullptr, 10);
  return index < lines.size() ? std::optional(lines[index]) : std::nullopt;
}

/// "/table:6:1"; "/table:6" is of the whole line, "/table" of all.
std::string place_in_table(int line, int column) {
  if (line == 0) return "/table";
  return "/table:" + std::to_string(line) + (column == 0 ? "" : ':' + std::to_string(column));
}

void read_cell_proposal(const Field& body, ReadProposal& read) {
  read.subject = body["id"].text(80);
  const double nominal_V = body["nominal_V"].number(0.5, 12);
  const auto& text = body["table"];
  if (!text.value().is_string()) text.refuse("wrong-type", "expected the table as text");
  auto table = read_cell_table(text.value().get_ref<const std::string&>(), nominal_V);
  for (const auto& problem : table.problems)
    read.problems.push_back(
        {place_in_table(problem.line, problem.column), problem.line, problem.column, problem.reason});
  read.lines = table.lines;
  nlohmann::json document{{"id", read.subject},
                          {"designation", body["designation"].text(40)},
                          {"nominal_V", nominal_V},
                          {"source", body["source"].value()},
                          {"discharges", std::move(table.discharges)}};
  if (!read.problems.empty()) return;
  try {
    read.cell = read_cell(Field(document, ""));
  } catch (const json::Refused& refused) {
    const auto line = line_of(refused.place(), read.lines);
    if (!line) throw;
    read.problems.push_back({place_in_table(*line, 0), line, 0, refused.reason()});
    return;
  }
  read.fit = cell::fit(*read.cell);
  read.document = std::move(document);
}

duty::Stimulator base_of(const Field& body, const Libraries& libraries, const std::string& otherwise) {
  const auto named = body.find("base");
  const auto id = named ? named->text(80) : otherwise;
  if (id.empty()) body.refuse("missing", "no home has recorded this unit: say in \"base\" which model of unit it is");
  if (auto found = libraries.stimulator(id)) return *found;
  throw json::Refused("out-of-range", "/base", "there is no stimulator profile " + id);
}

review::BenchMeasurements read_measurements(const Field& body) {
  review::BenchMeasurements measured;
  if (const auto bursts = body.find("bursts")) {
    for (const Field& one : bursts->elements(200))
      measured.bursts.push_back(
          {read_side(one["side"]), one["amplitude"].number(-1e6, 1e6), one["current_mA"].number(-1e9, 1e9)});
  }
  if (const auto gauge = body.find("gauge")) {
    for (const Field& one : gauge->elements(101))
      measured.gauge.push_back({one["set_V"].number(-1e6, 1e6), one["percent"].number(-1e6, 1e6)});
  }
  if (const auto cutoff = body.find("cutoff_V")) measured.cutoff_V = cutoff->number(-1e6, 1e6);
  if (const auto warning = body.find("warning_percent")) measured.warning_percent = warning->number(0, 100);
  if (measured.bursts.empty() && measured.gauge.empty())
    body.refuse("missing", "nothing was measured: give bursts, gauge, or both");
  return measured;
}

void read_stimulator_proposal(const Field& body, const Libraries& libraries, const std::string& model_of_unit,
                              ReadProposal& read) {
  read.measured_at = read_time(body["at"]);
  const bool one_unit = read.kind == Proposal::Kind::unit;
  read.subject = one_unit ? body["serial"].text(60) : body["id"].text(64);
  auto measurements = read_measurements(body);
  measurements.serial = one_unit ? read.subject : "";
  measurements.base = base_of(body, libraries, one_unit ? model_of_unit : "");
  read.gauge_points = measurements.gauge.size();
  auto measured = review::measured_unit(measurements);
  for (const auto& problem : measured.problems)
    read.problems.push_back({'/' + problem.field, std::nullopt, std::nullopt, problem.words});
  read.residuals = measured.residuals;
  if (!measured.usable()) return;
  if (!one_unit) measured.profile.id = read.subject;
  auto document = stimulator_file(measured.profile);
  if (const auto source = body.find("source")) document["source"] = source->value();
  try {
    read.stimulator = read_stimulator(Field(document, ""));
  } catch (const json::Refused& refused) {
    read.problems.push_back({refused.place(), std::nullopt, std::nullopt, refused.reason()});
    return;
  }
  read.document = std::move(document);
}

void read_steps(const Field& body, const Libraries& libraries, ReadProposal& read) {
  read.subject = body["stimulator"].text(80);
  if (!libraries.stimulator(read.subject))
    body["stimulator"].refuse("out-of-range", "there is no stimulator profile of that name");
  auto steps = nlohmann::json::array();
  for (const Field& step : body["steps"].elements(12)) steps.push_back(step.text(300));
  if (steps.empty()) body["steps"].refuse("missing", "give the steps, a sentence each");
  const auto date = body["date"].text(10);
  if (!json::parse_rfc3339(date + "T00:00:00Z"))
    body["date"].refuse("out-of-range", "expected a date such as 2026-05-01");
  read.document = {{"steps", std::move(steps)}, {"source", body["source"].text(400)}, {"date", date}};
}

nlohmann::json side_file(const duty::SideElectronics& side) {
  return {{"burst_base_mA", side.burst_base_mA},
          {"burst_slope_mA", side.burst_slope_mA},
          {"reference_amplitude", side.reference_amplitude},
          {"exponent", side.exponent},
          {"rest_mA", side.rest_mA},
          {"standby_mA", side.standby_mA},
          {"off_mA", side.off_mA}};
}

}  // namespace

ReadProposal read_proposal(const Field& body, const Libraries& libraries, const std::string& model_of_unit) {
  ReadProposal read;
  if (!body.value().is_object()) body.refuse("wrong-type", "expected an object");
  read.kind = static_cast<Proposal::Kind>(body["kind"].word({"cell", "unit", "stimulator", "steps"}));
  switch (read.kind) {
    case Proposal::Kind::cell:
      read_cell_proposal(body, read);
      break;
    case Proposal::Kind::unit:
    case Proposal::Kind::stimulator:
      read_stimulator_proposal(body, libraries, model_of_unit, read);
      break;
    case Proposal::Kind::steps:
      read_steps(body, libraries, read);
  }
  return read;
}

nlohmann::json stimulator_file(const duty::Stimulator& stimulator) {
  static const char* converters[] = {"constant_current", "constant_power", "constant_resistance"};
  const auto& gauge = stimulator.gauge;
  auto points = nlohmann::json::array();
  for (const auto& [percent, volts] : gauge.volts_at_percent) points.push_back({percent, volts});
  nlohmann::json document{{"id", stimulator.id},
                          {"basis", stimulator.basis},
                          {"cells_in_series", stimulator.cells_in_series},
                          {"cutoff_V", stimulator.cutoff_V},
                          {"reference_V", stimulator.reference_V},
                          {"converter", converters[static_cast<int>(stimulator.converter)]},
                          {"left", side_file(stimulator.left)},
                          {"right", side_file(stimulator.right)},
                          {"relative_sd", stimulator.relative_sd},
                          {"burst_seen", stimulator.burst_seen},
                          {"gauge",
                           {{"volts_at_percent", std::move(points)},
                            {"noise_points", gauge.noise_points},
                            {"bias_points", gauge.bias_points},
                            {"reads_high_after_on", gauge.reads_high_after_on},
                            {"latches", gauge.latches}}},
                          {"warning_percent", stimulator.warning_percent}};
  if (gauge.steps) document["gauge"]["steps"] = *gauge.steps;
  return document;
}

}  // namespace cellarer::service
