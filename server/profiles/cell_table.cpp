// SPDX-License-Identifier: MIT
#include "server/profiles/cell_table.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <optional>

#include "server/json/utf8.hpp"

namespace cellarer {

namespace {

constexpr std::size_t most_problems = 50, most_bytes = 200'000, most_lines = 2000, most_columns = 20;

/// One cell's worth: what is outside is in another unit, or no figure of a cell. `other` is what would then be meant.
struct Column {
  const char* name;
  double lowest, highest;
  double too_small, too_large;  ///< below and above: as if in the larger unit, the smaller unit
  const char *larger_unit, *smaller_unit;
};

constexpr Column columns[] = {
    {"current_mA", 1, 5000, 1000, 1000, "A", "microampere"},
    {"resistance_ohm", 0.2, 100'000, 1000, 1000, "kilohm", "milliohm"},
    {"power_mW", 1, 10'000, 1000, 1000, "W", "microwatt"},
    {"cutoff_V", 0.3, 10, 1000, 1000, "kV", "mV"},
    {"hours", 0.01, 200'000, 24, 3600, "days", "seconds"},
    {"capacity_mAh", 5, 60'000, 1000, 1000, "Ah", "microampere hours"},
    {"start_V", 0.5, 20, 1000, 1000, "kV", "mV"},
    {"on_s", 0.001, 2'678'400, 3600, 1000, "hours", "ms"},
    {"period_s", 0.001, 2'678'400, 3600, 1000, "hours", "ms"},
    {"temperature_C", -40, 70, 0, 0, "", ""},
    {"specimen", 0, 0, 0, 0, "", ""},
};
constexpr const char* known_columns =
    "current_mA, resistance_ohm, power_mW, cutoff_V, hours, capacity_mAh, start_V, on_s, period_s, temperature_C, "
    "specimen";

std::string plain(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.6g", value);
  return text;
}

std::string trimmed(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '"'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return std::string(text);
}

/// What is shown of a cell, or kept of a name: no character is cut in two.
std::string beginning(const std::string& text) {
  constexpr std::size_t longest = 40;
  return std::string(text.size() <= longest ? text : json::whole_characters(std::string_view(text).substr(0, longest)));
}

std::vector<std::string> split(std::string_view line, char separator) {
  std::vector<std::string> cells;
  while (cells.size() < most_columns) {
    const auto end = line.find(separator);
    cells.push_back(trimmed(line.substr(0, end)));
    if (end == std::string_view::npos) break;
    line.remove_prefix(end + 1);
  }
  return cells;
}

std::optional<double> number_in(std::string text, bool decimal_comma) {
  if (decimal_comma) std::replace(text.begin(), text.end(), ',', '.');
  double value = 0;
  const auto* end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, value);
  if (read.ec != std::errc() || read.ptr != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

/// What programs write where they have no figure.
bool says_nothing(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
  const char* words[] = {"null", "none", "nan", "na", "n/a", "-", "--"};
  return std::find(std::begin(words), std::end(words), text) != std::end(words);
}

class Reader {
 public:
  Reader(CellTable& table, double nominal_V) : table_(table), nominal_V_(nominal_V) {}

  void read(std::string_view text) {
    if (text.size() > most_bytes) return say(0, 0, "The table is too long: at most 200 000 characters.");
    int line = 0;
    while (!text.empty() && line < static_cast<int>(most_lines)) {
      const auto end = text.find('\n');
      const auto one = text.substr(0, end);
      ++line;
      if (!trimmed(one).empty()) head_.empty() ? read_head(line, one) : read_row_if_known(line, one);
      if (end == std::string_view::npos) break;
      text.remove_prefix(end + 1);
    }
    if (line >= static_cast<int>(most_lines)) say(line, 0, "There are too many lines: at most 2000.");
    if (head_.empty())
      return say(0, 0, "There is no head line. It names the columns, such as current_mA, cutoff_V, hours.");
    if (table_.discharges.empty() && table_.problems.empty()) say(0, 0, "There is no line below the head.");
  }

 private:
  void say(int line, int column, const std::string& reason) {
    if (table_.problems.size() < most_problems) table_.problems.push_back({line, column, reason});
  }

  void read_head(int line, std::string_view text) {
    separator_ = ',';
    if (text.find(';') != std::string_view::npos) separator_ = ';';
    if (text.find('\t') != std::string_view::npos) separator_ = '\t';
    int number = 0;
    for (const auto& name : split(text, separator_)) {
      ++number;
      const auto found =
          std::find_if(std::begin(columns), std::end(columns), [&](const Column& one) { return name == one.name; });
      head_.push_back(found == std::end(columns) ? nullptr : found);
      if (name.empty())
        say(line, number, "This column has no name: name it, or take it out.");
      else if (found == std::end(columns))
        say(line, number, "\"" + beginning(name) + "\" is no column here: expected one of " + known_columns + ".");
      else if (std::count(head_.begin(), head_.end(), found) > 1)
        say(line, number, "There are two columns " + name + ".");
    }
  }

  /// The value where it can be, else what is wrong is said.
  std::optional<double> value_of(const Column& column, const std::string& text, int line, int number) {
    const auto value = number_in(text, separator_ != ',');
    const std::string name = column.name;
    if (!value && says_nothing(text)) {
      say(line, number, "\"" + text + "\" is no number: leave the place empty where there is no figure.");
      return std::nullopt;
    }
    if (!value) {
      say(line, number,
          "\"" + beginning(text) + "\" is no number: write " + name + " as digits alone, without a unit.");
      return std::nullopt;
    }
    if (*value >= column.lowest && *value <= column.highest) return value;
    std::string reason = plain(*value) + " is outside what " + name + " can be (" + plain(column.lowest) + " to " +
                         plain(column.highest) + ").";
    const double as_larger = *value * column.too_small,
                 as_smaller = column.too_large > 0 ? *value / column.too_large : 0;
    const auto fits = [&](double meant) { return meant >= column.lowest && meant <= column.highest; };
    if (column.too_small > 0 && *value > 0 && *value < column.lowest && fits(as_larger))
      reason += " If it is in " + std::string(column.larger_unit) + ", write " + plain(as_larger) + ".";
    if (column.too_large > 0 && *value > column.highest && fits(as_smaller))
      reason += " If it is in " + std::string(column.smaller_unit) + ", write " + plain(as_smaller) + ".";
    say(line, number, reason);
    return std::nullopt;
  }

  /// Below a head line that is not understood no row can be.
  void read_row_if_known(int line, std::string_view text) {
    if (std::find(head_.begin(), head_.end(), nullptr) == head_.end()) read_row(line, text);
  }

  void read_row(int line, std::string_view text) {
    const auto cells = split(text, separator_);
    const auto before = table_.problems.size();
    // What stands in which column is not known then: nothing else is said of the line.
    if (cells.size() > head_.size()) return say_too_many(line, cells.size());
    auto discharge = nlohmann::json::object();
    int cutoff_column = 0;
    std::optional<double> start_V;
    for (std::size_t i = 0; i < std::min(cells.size(), head_.size()); ++i) {
      if (head_[i] == nullptr || cells[i].empty()) continue;
      const Column& column = *head_[i];
      const auto number = static_cast<int>(i) + 1;
      const std::string name = column.name;
      if (name == "cutoff_V") cutoff_column = number;
      if (name == "specimen") {
        discharge[name] = beginning(cells[i]);
        continue;
      }
      const auto value = value_of(column, cells[i], line, number);
      if (!value) continue;
      if (name == "start_V")
        start_V = value;
      else
        discharge[name] = *value;
    }
    check(discharge, start_V, line, cutoff_column, table_.problems.size() == before);
    if (table_.problems.size() != before) return;
    table_.discharges.push_back(std::move(discharge));
    table_.lines.push_back(line);
  }

  void say_too_many(int line, std::size_t count) {
    std::string reason = "has " + std::to_string(count) + " columns, more than the " + std::to_string(head_.size()) +
                         " of the head line.";
    if (separator_ == ',')
      reason += " If commas are decimal ones here, part the columns by tabs or semicolons, the head line's too.";
    say(line, 0, reason);
  }

  void check(const nlohmann::json& discharge, std::optional<double> start_V, int line, int cutoff_column, bool whole) {
    const auto count = [&](std::initializer_list<const char*> names) {
      return std::count_if(names.begin(), names.end(), [&](const char* name) { return discharge.contains(name); });
    };
    if (discharge.contains("cutoff_V")) {
      const double cutoff = discharge["cutoff_V"].get<double>(), start = start_V.value_or(1.1 * nominal_V_);
      if (cutoff >= start)
        say(line, cutoff_column,
            "The cut-off of " + plain(cutoff) + " V is not below the " + plain(start) + " V at which " +
                (start_V ? "the discharge starts." : "a fresh cell starts."));
    }
    if (!whole) return;
    if (!discharge.contains("cutoff_V")) say(line, 0, "has no cutoff_V.");
    if (count({"current_mA", "resistance_ohm", "power_mW"}) != 1)
      say(line, 0, "needs exactly one load: current_mA, resistance_ohm or power_mW.");
    if (count({"hours", "capacity_mAh"}) != 1) say(line, 0, "needs exactly one of hours and capacity_mAh.");
    if (count({"on_s", "period_s"}) == 1) say(line, 0, "A regimen needs both on_s and period_s.");
    check_charge(discharge, line);
  }

  /// A load in one unit and hours in another give a charge that no cell holds.
  void check_charge(const nlohmann::json& discharge, int line) {
    constexpr double least_mAh = 0.5, most_mAh = 60'000;
    if (!discharge.contains("current_mA") || !discharge.contains("hours")) return;
    const double mAh = discharge["current_mA"].get<double>() * discharge["hours"].get<double>();
    if (mAh < least_mAh || mAh > most_mAh)
      say(line, 0, "Together they make " + plain(mAh) + " mAh, which no cell holds: is a unit another one?");
  }

  CellTable& table_;
  double nominal_V_;
  char separator_ = ',';
  std::vector<const Column*> head_;  ///< null: a column that is not known
};

}  // namespace

CellTable read_cell_table(std::string_view text, double nominal_V) {
  CellTable table;
  Reader(table, nominal_V).read(text);
  return table;
}

}  // namespace cellarer
