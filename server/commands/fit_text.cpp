// SPDX-License-Identifier: MIT
#include "server/commands/fit_text.hpp"

#include "model/cell/sentence.hpp"

namespace cellarer::commands {

using cell::sentence;

namespace {

double number(const nlohmann::json& document, const char* name) { return document.at(name).get<double>(); }
/// Null, where nothing was scored, is "none"; `unit` is "" or " %".
std::string percent(const nlohmann::json& value, int places, const char* unit = "") {
  return value.is_null() ? "none" : sentence("%.*f%s", places, value.get<double>(), unit);
}

std::string text_of(const nlohmann::json& document, const char* name) { return document.at(name).get<std::string>(); }

std::string load_text(const nlohmann::json& point) {
  if (point.contains("current_mA")) return sentence("%g mA", number(point, "current_mA"));
  if (point.contains("resistance_ohm")) return sentence("%g ohm", number(point, "resistance_ohm"));
  return sentence("%g mW", number(point, "power_mW"));
}

std::string point_text(const nlohmann::json& point) {
  const bool hours = point.contains("hours");
  const char* unit = hours ? "h" : "mAh";
  const double published = number(point, hours ? "hours" : "capacity_mAh");
  const double fitted = number(point, hours ? "fitted_hours" : "fitted_capacity_mAh");
  std::string how = point.contains("specimen") ? text_of(point, "specimen") : "";
  if (point.contains("on_s")) how += sentence(" on %g s of %g s", number(point, "on_s"), number(point, "period_s"));
  if (!point.at("in_fit").get<bool>()) how += " (not in the fit)";
  return sentence("  %10s  %5.2f V  %10.4g %-3s  %10.4g %-3s  %+6.1f %%  %5.1f %%  %s\n", load_text(point).c_str(),
                  number(point, "cutoff_V"), published, unit, fitted, unit, number(point, "residual_percent"),
                  number(point, "sd_percent"), how.c_str());
}

}  // namespace

std::string fit_text(const nlohmann::json& document) {
  std::string text = text_of(document, "id") + ", " + text_of(document, "designation") + ": ";
  text += document.at("usable").get<bool>() ? "usable\n" : "not usable. " + text_of(document, "why_not") + "\n";
  text += sentence("stopped after %d iterations: %s\n", document.at("iterations").get<int>(),
                   text_of(document, "stopped").c_str());
  const nlohmann::json& range = document.at("range");
  text += sentence("published range: %.4g to %.4g mA, %.3g to %.3g V\n", range["current_mA"][0].get<double>(),
                   range["current_mA"][1].get<double>(), range["cutoff_V"][0].get<double>(),
                   range["cutoff_V"][1].get<double>());
  text += sentence("%.2g ohm of holder and contacts taken off the published rows; the curve is of the bare cell\n",
                   number(document, "fixture_ohm"));
  text += "\nparameters                                value  standard error\n";
  for (const nlohmann::json& parameter : document.at("parameters")) {
    text += sentence("  %-34s %10.4g  %10.2g\n", text_of(parameter, "name").c_str(), number(parameter, "value"),
                     number(parameter, "standard_error"));
  }
  text += "\ndepth   open circuit   slow        fast\n";
  for (const nlohmann::json& at : document.at("curve")) {
    text += sentence("  %3.1f   %8.3f V   %7.3f ohm  %6.3f ohm\n", number(at, "depth"), number(at, "open_circuit_V"),
                     number(at, "slow_ohm"), number(at, "fast_ohm"));
  }
  text += "\n        load  cut-off       published          fitted  residual   weight\n";
  for (const nlohmann::json& point : document.at("points")) text += point_text(point);
  text += sentence("root mean square %.1f %%, largest %.1f %%\n", number(document, "rms_residual_percent"),
                   number(document, "largest_residual_percent"));
  if (!document.at("peukert").empty()) text += "\nPeukert's exponent between neighbouring loads: published, fitted\n";
  for (const nlohmann::json& check : document.at("peukert")) {
    text += sentence("  %.2f V  %.4g to %.4g mA: %.3f, %.3f\n", number(check, "cutoff_V"), number(check, "from_mA"),
                     number(check, "to_mA"), number(check, "exponent"), number(check, "fitted_exponent"));
  }
  for (const nlohmann::json& caution : document.at("cautions")) text += "note: " + caution.get<std::string>() + "\n";
  return text;
}

std::string table_text(const nlohmann::json& document) {
  std::string text =
      "error of the hours, per cent              100 mA  500 mA  cut-off  500 from 100   100 from 500\n"
      "                                          fitted  fitted  left out (ridge)       (ridge)\n";
  for (const nlohmann::json& brand : document.at("brands")) {
    const auto mean = [&](const char* name) { return percent(brand.at(name).at("mean_percent"), 1); };
    text += sentence("%-40s  %5s   %5s   %5s    %5s (%4s)   %5s (%4s)\n", text_of(brand, "id").c_str(),
                     mean("at_100_mA").c_str(), mean("at_500_mA").c_str(), mean("cutoff_left_out").c_str(),
                     mean("to_500_mA").c_str(), mean("ridge_to_500_mA").c_str(), mean("to_100_mA").c_str(),
                     mean("ridge_to_100_mA").c_str());
  }
  text += "\npublished points                           in the fit  left out\n";
  for (const nlohmann::json& point : document.at("points")) {
    text += sentence("%-30s %4g mA %.2f V %+7.1f %%  %+7.1f %%\n", text_of(point, "id").c_str(),
                     number(point, "current_mA"), number(point, "cutoff_V"), number(point, "in_fit_percent"),
                     number(point, "left_out_percent"));
  }
  text += "\n" + sentence("%-58s %6s  %6s\n", "", "found", "at most");
  for (const nlohmann::json& line : document.at("summary")) {
    text +=
        sentence("%-58s %7s  %7s  %s\n", text_of(line, "what").c_str(), percent(line.at("percent"), 2, " %").c_str(),
                 percent(line.at("target_percent"), 2, " %").c_str(), line.at("reached") == false ? "not reached" : "");
  }
  return text + "\nScored: " + text_of(document, "scored") + ".\n";
}

}  // namespace cellarer::commands
