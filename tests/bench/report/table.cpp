// SPDX-License-Identifier: MIT
#include "tests/bench/report/table.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <ostream>

namespace cellarer::bench {

namespace {

std::string formatted(const char* format, double value, int digits) {
  char text[64];
  std::snprintf(text, sizeof text, format, digits, value);
  return text;
}

}  // namespace

void Table::print(std::ostream& out) const {
  std::vector<std::size_t> width;
  for (const auto& row : rows_) {
    width.resize(std::max(width.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i) width[i] = std::max(width[i], row[i].size());
  }
  for (std::size_t r = 0; r < rows_.size(); ++r) {
    std::string line;
    for (std::size_t i = 0; i < rows_[r].size(); ++i) {
      const std::string pad(width[i] - rows_[r][i].size(), ' ');
      line += std::string("  ") + (i == 0 ? rows_[r][i] + pad : pad + rows_[r][i]);
    }
    out << line << '\n';
    if (r > 0) continue;
    std::size_t total = 0;
    for (const auto one : width) total += one + 2;
    out << "  " << std::string(total - 2, '-') << '\n';
  }
}

std::string number(double value, int decimals) {
  return std::isfinite(value) ? formatted("%.*f", value, decimals) : "-";
}

std::string percent(double share, int decimals) {
  return std::isfinite(share) ? number(100 * share, decimals) + " %" : "-";
}

std::string percents(double a, double b) { return percent(a) + " / " + percent(b); }

std::string brief(double value) { return std::isfinite(value) ? formatted("%.*g", value, 3) : "-"; }

}  // namespace cellarer::bench
