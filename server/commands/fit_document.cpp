// SPDX-License-Identifier: MIT
#include <cmath>

#include "server/commands/fit_text.hpp"

namespace cellarer::commands {

namespace {

nlohmann::json load_document(const cell::Load& load) {
  switch (load.kind) {
    case cell::LoadKind::current:
      return {{"current_mA", load.value}};
    case cell::LoadKind::resistance:
      return {{"resistance_ohm", load.value}};
    case cell::LoadKind::power:
      break;
  }
  return {{"power_mW", load.value}};
}

nlohmann::json point_document(const cell::Discharge& row, const cell::FittedPoint& point) {
  nlohmann::json document = load_document(row.load);
  const char* what = row.hours ? "hours" : "capacity_mAh";
  document["cutoff_V"] = row.cutoff_V;
  document[what] = point.published;
  document[std::string("fitted_") + what] = point.fitted;
  document["residual_percent"] = 100 * std::expm1(point.log_residual);
  document["sd_percent"] = 100 * point.log_sd;
  document["in_fit"] = point.in_fit;
  if (!row.specimen.empty()) document["specimen"] = row.specimen;
  if (row.regimen) document["on_s"] = row.regimen->on_s, document["period_s"] = row.regimen->period_s;
  return document;
}

/// Parameters in the units people use: the logarithm's standard error becomes a relative one.
nlohmann::json parameters_document(const cell::FitSummary& summary) {
  nlohmann::json list = nlohmann::json::array();
  const auto error = [&](int index) { return std::sqrt(summary.covariance(index, index)); };
  const auto add = [&](const std::string& name, double value, double standard_error) {
    list.push_back({{"name", name}, {"value", value}, {"standard_error", standard_error}});
  };
  for (int i = 0; i < cell::parameter_count; ++i) {
    const double value = summary.parameters[i];
    const std::string name = cell::name_of_parameter(i);
    const bool plain_log =
        i == cell::log_capacity || i == cell::log_fresh_ohm || i == cell::log_fast_ohm || i == cell::log_tau_min;
    if (plain_log)
      add(name.substr(3), std::exp(value), std::exp(value) * error(i));
    else
      add(name, value, error(i));
  }
  return list;
}

nlohmann::json curve_document(const cell::Curve& curve) {
  nlohmann::json list = nlohmann::json::array();
  for (int percent = 0; percent <= 100; percent += 10) {
    const double depth = 0.01 * percent;
    list.push_back({{"depth", depth},
                    {"open_circuit_V", curve.open_circuit_V(depth)},
                    {"slow_ohm", curve.slow_ohm(depth)},
                    {"fast_ohm", curve.fast_ohm(depth)}});
  }
  return list;
}

nlohmann::json peukert_document(const cell::FitSummary& summary) {
  nlohmann::json list = nlohmann::json::array();
  for (const cell::ExponentCheck& check : cell::exponent_checks(summary)) {
    list.push_back({{"cutoff_V", check.cutoff_V},
                    {"from_mA", check.from_mA},
                    {"to_mA", check.to_mA},
                    {"exponent", check.published},
                    {"fitted_exponent", check.fitted}});
  }
  return list;
}

/// Nothing scored is no error of nought: null.
nlohmann::json percent_or_null(double value, bool scored) {
  return scored ? nlohmann::json(100 * value) : nlohmann::json();
}

nlohmann::json error_document(const cell::ErrorSum& sum) {
  if (sum.count == 0)
    return {{"mean_percent", nullptr}, {"bias_percent", nullptr}, {"largest_percent", nullptr}, {"count", 0}};
  return {{"mean_percent", 100 * sum.mean()},
          {"bias_percent", 100 * sum.bias()},
          {"largest_percent", 100 * sum.largest},
          {"count", sum.count}};
}

nlohmann::json line(const char* code, const char* what, double value, double target, bool scored) {
  return {{"code", code},
          {"what", what},
          {"percent", percent_or_null(value, scored)},
          {"target_percent", percent_or_null(target, scored || target > 0)},
          {"reached", scored ? nlohmann::json(value <= target) : nlohmann::json()}};
}

}  // namespace

nlohmann::json fit_document(const cell::PublishedCell& cell, const cell::FitSummary& summary) {
  nlohmann::json points = nlohmann::json::array();
  for (std::size_t i = 0; i < summary.points.size(); ++i)
    points.push_back(point_document(cell.discharges[i], summary.points[i]));
  const cell::ValidRange& range = summary.range;
  return {{"id", cell.id},
          {"designation", cell.designation},
          {"usable", summary.usable},
          {"why_not", summary.why_not},
          {"stopped", summary.why_it_stopped},
          {"iterations", summary.iterations},
          {"converged", summary.converged},
          {"rms_residual_percent", 100 * summary.rms_log_residual},
          {"largest_residual_percent", 100 * summary.largest_log_residual},
          {"range",
           {{"current_mA", {range.lowest_mA, range.highest_mA}},
            {"cutoff_V", {range.lowest_cutoff_V, range.highest_cutoff_V}},
            {"temperature_C", {range.lowest_C, range.highest_C}}}},
          {"fixture_ohm", summary.parameters[cell::fixture_ohm]},
          {"parameters", parameters_document(summary)},
          {"curve", curve_document(summary.curve)},
          {"points", points},
          {"peukert", peukert_document(summary)},
          {"cautions", summary.cautions}};
}

nlohmann::json table_document(const cell::AccuracyTable& table) {
  nlohmann::json brands = nlohmann::json::array(), points = nlohmann::json::array();
  for (const cell::BrandScore& brand : table.brands) {
    brands.push_back({{"id", brand.id},
                      {"at_100_mA", error_document(brand.at_100_mA)},
                      {"at_500_mA", error_document(brand.at_500_mA)},
                      {"cutoff_left_out", error_document(brand.left_out)},
                      {"to_500_mA", error_document(brand.across_to_500)},
                      {"to_100_mA", error_document(brand.across_to_100)},
                      {"ridge_to_500_mA", error_document(brand.ridge_to_500)},
                      {"ridge_to_100_mA", error_document(brand.ridge_to_100)}});
  }
  for (const cell::PointScore& point : table.points) {
    points.push_back({{"id", point.id},
                      {"current_mA", point.current_mA},
                      {"cutoff_V", point.cutoff_V},
                      {"capacity_mAh", point.capacity_mAh},
                      {"in_fit_percent", 100 * point.in_fit},
                      {"left_out_percent", 100 * point.out_of_fit}});
  }
  nlohmann::json lines = nlohmann::json::array();
  lines.push_back(line("fitted", "hours at 100 and 500 mA, all rows in the fit (mean)", table.fitted.mean(), 0.020,
                       table.fitted.count > 0));
  lines.push_back(line("cutoff_left_out", "the same, one cut-off left out in turn (mean)", table.left_out.mean(), 0.030,
                       table.left_out.count > 0));
  lines.push_back(line("to_500_mA", "500 mA from 100 mA, prior of the other brands (mean)", table.across_to_500.mean(),
                       0.085, table.across_to_500.count > 0));
  lines.push_back(line("to_100_mA", "100 mA from 500 mA, prior of the other brands (mean)", table.across_to_100.mean(),
                       0.055, table.across_to_100.count > 0));
  lines.push_back(line("ridge_to_500_mA", "  against ridge regression on log hours", table.across_to_500.mean(),
                       table.ridge_to_500.mean(), table.ridge_to_500.count > 0));
  lines.push_back(line("ridge_to_100_mA", "  against ridge regression, the other way", table.across_to_100.mean(),
                       table.ridge_to_100.mean(), table.ridge_to_100.count > 0));
  lines.push_back(line("points_in_fit", "published 25, 200, 1000 mA, in the fit (largest)", table.largest_in_fit, 0.12,
                       !table.points.empty()));
  lines.push_back(line("points_left_out", "the same, left out, prior without that brand (largest)",
                       table.largest_out_of_fit, 0.20, !table.points.empty()));
  return {{"summary", lines},
          {"brands", brands},
          {"points", points},
          {"scored",
           "100 mA to 1.20 V and below, 500 mA to 1.00 V and below, against the mean of two specimens; across loads at "
           "the cut-offs that every brand has"}};
}

}  // namespace cellarer::commands
