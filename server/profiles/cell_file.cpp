// SPDX-License-Identifier: MIT
#include "server/profiles/cell_file.hpp"

#include <algorithm>
#include <cctype>
#include <cstdio>
#include <string>
#include <utility>

#include "model/cell/family.hpp"

namespace cellarer {

using cell::Discharge;
using cell::PublishedCell;
using json::Field;

namespace {

constexpr std::size_t most_discharges = 2000;

std::string identifier(const Field& field) {
  auto text = field.text(80);
  const bool plain = std::all_of(text.begin(), text.end(), [](unsigned char c) {
    return std::islower(c) != 0 || std::isdigit(c) != 0 || c == '-' || c == '_' || c == '.';
  });
  if (!plain)
    field.refuse("out-of-range", "may hold small letters, digits, '-', '_' and '.' only, such as lr6-example");
  return text;
}

cell::Source read_source(const Field& field) {
  cell::Source source;
  source.title = field["title"].text(400);
  if (const auto publisher = field.find("publisher")) source.publisher = publisher->text(400);
  if (const auto year = field.find("year")) source.year = year->integer(1900, 2100);
  if (const auto fixture = field.find("fixture_ohm")) source.fixture_ohm = fixture->number(0, 0.2);
  constexpr cell::Basis bases[] = {cell::Basis::data_sheet, cell::Basis::measured, cell::Basis::chart_reading,
                                   cell::Basis::memory};
  source.basis = bases[field["basis"].word({"data sheet", "measured", "chart reading", "memory"})];
  return source;
}

cell::Load read_load(const Field& field) {
  const struct {
    const char* name;
    cell::LoadKind kind;
    double lowest, highest;
  } kinds[] = {{"current_mA", cell::LoadKind::current, 0.01, 20'000},
               {"resistance_ohm", cell::LoadKind::resistance, 0.05, 1'000'000},
               {"power_mW", cell::LoadKind::power, 0.01, 50'000}};
  cell::Load load;
  int count = 0;
  for (const auto& kind : kinds) {
    if (const auto given = field.find(kind.name)) {
      load = {kind.kind, given->number(kind.lowest, kind.highest)};
      ++count;
    }
  }
  if (count == 0) field.refuse("missing", "needs one load: current_mA, resistance_ohm or power_mW");
  if (count > 1)
    field.refuse("conflict", "has more than one load: give only one of current_mA, resistance_ohm, power_mW");
  return load;
}

void read_result(const Field& field, Discharge& discharge) {
  const auto hours = field.find("hours"), capacity = field.find("capacity_mAh");
  if (hours && capacity) field.refuse("conflict", "has both hours and capacity_mAh: give only one of them");
  if (!hours && !capacity) field.refuse("missing", "needs hours or capacity_mAh");
  if (hours) discharge.hours = hours->number(0.0001, 1'000'000);
  if (capacity) discharge.capacity_mAh = capacity->number(0.01, 1'000'000);
}

void read_regimen(const Field& field, Discharge& discharge) {
  const auto on = field.find("on_s"), period = field.find("period_s");
  if (!on && !period) return;
  if (!on || !period)
    field.refuse("missing", "a regimen needs both on_s and period_s; leave both out for a continuous discharge");
  const double period_s = period->number(0.001, 31 * 86'400.0);
  const double on_s = on->number(0.001, 31 * 86'400.0);
  if (on_s > period_s) on->refuse("out-of-range", "is longer than period_s: the load is on for on_s of every period_s");
  if (on_s < period_s) discharge.regimen = cell::Regimen{on_s, period_s};
}

Discharge read_discharge(const Field& field, double nominal_V) {
  Discharge discharge;
  discharge.load = read_load(field);
  // A fresh alkaline cell of 1.5 V stands at 1.6 V: no cell of these systems starts above 1.1 times nominal.
  const Field cutoff = field["cutoff_V"];
  discharge.cutoff_V = cutoff.number(0.01, 100);
  if (discharge.cutoff_V >= 1.1 * nominal_V) {
    char text[160];
    std::snprintf(text, sizeof text,
                  "is above the voltage a fresh cell starts at; one cell of %.3g V needs a cut-off below %.3g V",
                  nominal_V, 1.1 * nominal_V);
    cutoff.refuse("out-of-range", text);
  }
  read_result(field, discharge);
  read_regimen(field, discharge);
  if (const auto temperature = field.find("temperature_C")) discharge.temperature_C = temperature->number(-60, 80);
  if (const auto specimen = field.find("specimen")) discharge.specimen = specimen->text(40);
  return discharge;
}

bool same_test(const Discharge& a, const Discharge& b) {
  const auto regimen = [](const Discharge& d) {
    return d.regimen ? std::pair(d.regimen->on_s, d.regimen->period_s) : std::pair(0.0, 0.0);
  };
  return a.load.kind == b.load.kind && a.load.value == b.load.value && a.specimen == b.specimen &&
         a.temperature_C == b.temperature_C && regimen(a) == regimen(b);
}

/// A row of one specimen given twice, or a discharge that would have passed a lower voltage before a higher one.
void refuse_contradictions(const std::vector<Discharge>& all, const std::vector<Field>& fields) {
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const Discharge &a = all[i], &b = all[j];
      if (!same_test(a, b) || a.hours.has_value() != b.hours.has_value()) continue;
      const double result_a = a.hours ? *a.hours : *a.capacity_mAh, result_b = b.hours ? *b.hours : *b.capacity_mAh;
      if (a.cutoff_V == b.cutoff_V) {
        if (result_a != result_b || a.specimen.empty()) continue;  // a second cell of the brand
        fields[i].refuse("duplicate",
                         "is the same as " + fields[j].place() + "; give two cells each a \"specimen\" of its own");
      }
      if (a.specimen.empty()) continue;  // may be several cells
      if ((a.cutoff_V > b.cutoff_V) == (result_a > result_b) && result_a != result_b) {
        fields[i].refuse("conflict", "passes a lower cut-off sooner than a higher one, against " + fields[j].place());
      }
    }
  }
}

cell::Spread read_spread(const Field& field) {
  cell::Spread spread;
  const struct {
    const char* name;
    double* value;
    double highest;
  } members[] = {{"specimen_log_sd", &spread.specimen_log_sd, 0.5},
                 {"lot_log_sd", &spread.lot_log_sd, 0.5},
                 {"brand_log_sd", &spread.brand_log_sd, 0.5},
                 {"curve_sd_V", &spread.curve_sd_V, 0.5},
                 {"type_offset_sd_V", &spread.type_offset_sd_V, 0.5},
                 {"curve_tilt_sd_V", &spread.curve_tilt_sd_V, 0.5},
                 {"type_tilt_sd_V", &spread.type_tilt_sd_V, 0.5},
                 {"curve_form_sd_V", &spread.curve_form_sd_V, 0.5},
                 {"curve_charge_log_sd", &spread.curve_charge_log_sd, 0.5},
                 {"offset_capacity_correlation", &spread.offset_capacity_correlation, 0.9},
                 {"dud_fraction", &spread.dud_fraction, 0.2},
                 {"dud_shortfall", &spread.dud_shortfall, 0.9}};
  for (const auto& member : members) {
    if (const auto given = field.find(member.name)) *member.value = given->number(0, member.highest);
  }
  return spread;
}

}  // namespace

PublishedCell read_cell(const Field& document) {
  PublishedCell cell;
  cell.id = identifier(document["id"]);
  cell.designation = document["designation"].text(40);
  const auto brand = document.find("brand");
  cell.brand = brand ? brand->text(200) : cell.id;
  cell.nominal_V = document["nominal_V"].number(0.5, 12);
  cell.source = read_source(document["source"]);
  if (const auto spread = document.find("spread")) cell.spread = read_spread(*spread);
  cell.family = cell.spread.has_value();
  const auto list = document.find("discharges");
  const bool record_only = cell::is_rechargeable(cell.designation);
  if (!list && record_only) return cell;
  const std::vector<Field> fields = document["discharges"].elements(most_discharges);
  if (fields.empty() && !record_only) document["discharges"].refuse("missing", "needs at least one discharge");
  for (const Field& field : fields) cell.discharges.push_back(read_discharge(field, cell.nominal_V));
  refuse_contradictions(cell.discharges, fields);
  return cell;
}

PublishedCell read_cell_file(std::string_view text) {
  const nlohmann::json document = json::parse(text);
  return read_cell(Field(document, ""));
}

}  // namespace cellarer
