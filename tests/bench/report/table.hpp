// SPDX-License-Identifier: MIT
#pragma once
#include <iosfwd>
#include <string>
#include <vector>

namespace cellarer::bench {

/// A table in plain text: the first column to the left, the others to the right, columns two spaces apart.
class Table {
 public:
  explicit Table(std::vector<std::string> heads) { rows_.push_back(std::move(heads)); }
  void add(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
  void print(std::ostream& out) const;

 private:
  std::vector<std::vector<std::string>> rows_;
};

/// A number with so many decimals; "-" where there is none (NaN).
std::string number(double value, int decimals);
/// A share as per cent: 0.183 is "18.3 %".
std::string percent(double share, int decimals = 1);
/// Two of them: "18.3 % / 19.0 %".
std::string percents(double a, double b);
/// Three significant digits, for numbers of any size.
std::string brief(double value);

}  // namespace cellarer::bench
