// SPDX-License-Identifier: MIT
#include "server/commands/prior_text.hpp"

#include <cstdio>

namespace cellarer::commands {

namespace {

/// Numbers in lines of at most 116 characters.
class Lines {
 public:
  void add(double value) {
    char number[32];
    std::snprintf(number, sizeof number, "%.5g,", value);
    const std::string text = number;
    if (line_.size() + 1 + text.size() > 116) end();
    line_ += line_.empty() ? "    " + text : " " + text;
  }
  void end() {
    if (!line_.empty()) text_ += line_ + "\n";
    line_.clear();
  }
  const std::string& text() const { return text_; }

 private:
  std::string line_, text_;
};

}  // namespace

std::string prior_source(const cell::FamilyPrior& prior) {
  Lines mean, triangle;
  for (int row = 0; row < cell::parameter_count; ++row) {
    mean.add(prior.mean[row]);
    for (int column = 0; column <= row; ++column) triangle.add(prior.covariance(row, column));
  }
  mean.end();
  triangle.end();
  return "// SPDX-License-Identifier: MIT\n"
         "// Written by `cellarer fit data/cells --prior`, from the cells of data/cells with two loads or more\n"
         "// (model/cell/learn.hpp says how). tests/reference/cell_accuracy.cpp repeats it. Not edited by hand.\n"
         "#include <cstddef>\n\n"
         "#include \"model/cell/family.hpp\"\n\n"
         "namespace cellarer::cell {\n\n"
         "namespace {\n\n"
         "// clang-format off\n"
         "constexpr double mean[] = {\n" +
         mean.text() +
         "};\n\n"
         "// The covariance's lower triangle, row by row.\n"
         "constexpr double triangle[] = {\n" +
         triangle.text() +
         "};\n"
         "// clang-format on\n\n"
         "}  // namespace\n\n"
         "FamilyPrior lr6_prior() {\n"
         "  FamilyPrior prior;\n"
         "  std::size_t next = 0;\n"
         "  for (int row = 0; row < parameter_count; ++row) {\n"
         "    prior.mean[row] = mean[row];\n"
         "    for (int column = 0; column <= row; ++column) {\n"
         "      prior.covariance(row, column) = prior.covariance(column, row) = triangle[next++];\n"
         "    }\n"
         "  }\n"
         "  return prior;\n"
         "}\n\n"
         "}  // namespace cellarer::cell\n";
}

}  // namespace cellarer::commands
