// SPDX-License-Identifier: MIT
// A pasted table of published figures. The rows are those of a file in data/cells.
#include "server/profiles/cell_table.hpp"

#include "server/json/utf8.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::testing;

namespace {

/// The one problem of a table with this line below a head line.
TableProblem problem_of(const std::string& head, const std::string& line) {
  const auto table = read_cell_table(head + "\n" + line + "\n", 1.5);
  REQUIRE(table.problems.size() == 1);
  CHECK(table.discharges.empty());
  return table.problems.front();
}

const std::string head = "current_mA,cutoff_V,hours";

}  // namespace

TEST_CASE("tabs, semicolons and commas part columns; a comma is a decimal one where it parts none") {
  for (const char* text : {"current_mA\tcutoff_V\thours\n100\t0.9\t23.2\n\n500\t0,9\t2,9\n",
                           "current_mA;cutoff_V;hours\r\n100;0,9;23,2\r\n500;0.9;2.9\r\n",
                           "current_mA,cutoff_V,hours\n100,0.9,23.2\n500,0.9,2.9"}) {
    const auto table = read_cell_table(text, 1.5);
    REQUIRE(table.problems.empty());
    REQUIRE(table.discharges.size() == 2);
    CHECK(table.discharges[0] == nlohmann::json{{"current_mA", 100.0}, {"cutoff_V", 0.9}, {"hours", 23.2}});
    CHECK(table.discharges[1]["hours"] == 2.9);
    CHECK(table.lines.back() == (std::string(text).find("\n\n") == std::string::npos ? 3 : 4));
  }
}

TEST_CASE("a line fills the load column that it means") {
  const auto table = read_cell_table(
      "resistance_ohm\tpower_mW\tcutoff_V\thours\tcapacity_mAh\n43\t\t0.9\t\t2200\n\t250\t1.0\t9.6\t\n", 1.5);
  REQUIRE(table.problems.empty());
  CHECK(table.discharges[0].contains("resistance_ohm"));
  CHECK(table.discharges[1]["power_mW"] == 250);
}

TEST_CASE("another unit is told with what was probably meant, by line and column") {
  auto problem = problem_of(head, "100 A,0.9,23.2");
  CHECK(problem.line == 2);
  CHECK(problem.column == 1);
  CHECK_THAT(problem.reason, holds("without a unit"));
  problem = problem_of(head, "0.1,0.9,23.2");
  CHECK(problem.column == 1);
  CHECK_THAT(problem.reason, holds("If it is in A, write 100."));
  problem = problem_of(head, "100,900,23.2");
  CHECK(problem.column == 2);
  CHECK_THAT(problem.reason, holds("If it is in mV, write 0.9."));
  problem = problem_of("current_mA,cutoff_V,capacity_mAh", "100,0.9,2.3");
  CHECK(problem.column == 3);
  CHECK_THAT(problem.reason, holds("If it is in Ah, write 2300."));
  // 100 mA for 1392 hours: minutes.
  CHECK_THAT(problem_of(head, "100,0.9,1392").reason, holds("139200 mAh, which no cell holds"));
}

TEST_CASE("a cut-off above the start is told, whether the table says the start or not") {
  CHECK_THAT(problem_of(head, "100,1.7,23.2").reason, holds("not below the 1.65 V at which a fresh cell starts"));
  CHECK_THAT(problem_of(head + ",start_V", "100,1.4,23.2,1.3").reason,
             holds("not below the 1.3 V at which the discharge"));
}

TEST_CASE("decimal commas in a table that commas part are told as such, once a line") {
  const auto problem = problem_of(head, "100,0,9,23,2");
  CHECK(problem.line == 2);
  CHECK(problem.column == 0);
  CHECK_THAT(problem.reason, holds("has 5 columns, more than the 3 of the head line"));
  CHECK_THAT(problem.reason, holds("If commas are decimal ones here, part the columns by tabs or semicolons"));
  // Where tabs part them, more columns are just that.
  const auto tabs = read_cell_table("current_mA\tcutoff_V\thours\n100\t0,9\t23,2\t7\n", 1.5);
  REQUIRE(tabs.problems.size() == 1);
  CHECK_THAT(tabs.problems.front().reason, !holds("decimal"));
}

TEST_CASE("a column without a name, and words that stand for no figure, are told with what would be right") {
  auto problem = problem_of("current_mA,,hours", "100,0.9,23.2");
  CHECK(problem.line == 1);
  CHECK(problem.column == 2);
  CHECK_THAT(problem.reason, holds("has no name: name it, or take it out"));
  for (const char* word : {"null", "NULL", "n/a", "-", "NaN"}) {
    problem = problem_of(head + ",temperature_C", std::string("100,0.9,23.2,") + word);
    CHECK(problem.column == 4);
    CHECK_THAT(problem.reason, holds("leave the place empty where there is no figure"));
  }
}

TEST_CASE("what is missing, too much or not known is told") {
  CHECK_THAT(problem_of("current_A,cutoff_V,hours", "1,0.9,2").reason, holds("is no column here"));
  CHECK_THAT(problem_of(head, "100,0.9").reason, holds("hours and capacity_mAh"));
  CHECK_THAT(problem_of(head, "100,0.9,23.2,7").reason, holds("has 4 columns, more than the 3"));
  CHECK_THAT(problem_of(head + ",on_s", "100,0.9,23.2,60").reason, holds("both on_s and period_s"));
  CHECK_THAT(read_cell_table("", 1.5).problems.front().reason, holds("no head line"));
  CHECK_THAT(read_cell_table(head, 1.5).problems.front().reason, holds("no line below"));
}

TEST_CASE("what is shown of a long word, and kept of a name, ends with a whole character (RFC 3629)") {
  std::string word = "x";
  for (int i = 0; i < 30; ++i) word += "\xc3\xb8";  // two bytes each: the fortieth byte is within one
  const auto shown = problem_of(head, word + ",0.9,23.2").reason;
  CHECK(json::is_utf8(shown));
  CHECK_THAT(shown, holds("\xc3\xb8\" is no number"));
  const auto table = read_cell_table(head + ",specimen\n100,0.9,23.2," + word + "\n", 1.5);
  REQUIRE(table.discharges.size() == 1);
  CHECK(table.discharges[0]["specimen"] == word.substr(0, 39));
}
