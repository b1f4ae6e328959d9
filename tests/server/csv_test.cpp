// SPDX-License-Identifier: MIT
// Tables as text. The forms are RFC 4180's own examples (section 2, rules 1 to 7); UTF-8's limits are those of RFC
// 3629; cells that begin a formula are those of OWASP's page "CSV Injection".
#include "server/csv/reader.hpp"
#include "server/csv/writer.hpp"
#include "server/json/utf8.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::csv;
using Cells = std::vector<std::string>;

namespace {

/// The RFC's examples have no header; here their first record is taken for one.
std::vector<Cells> all_records(const char* text) {
  const auto table = read(text);
  REQUIRE(table.faults.empty());
  std::vector<Cells> records{table.header};
  for (const auto& row : table.rows) records.push_back(row.cells);
  return records;
}

Fault only_fault(const std::string& text) {
  const auto table = read(text);
  REQUIRE(table.faults.size() == 1);
  return table.faults.front();
}

}  // namespace

TEST_CASE("RFC 4180's examples read as it says", "[csv]") {
  const std::vector<Cells> plain{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}};
  CHECK(all_records("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n") == plain);          // 1
  CHECK(all_records("aaa,bbb,ccc\r\nzzz,yyy,xxx") == plain);              // 2
  CHECK(all_records("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx") == plain);  // 5
  CHECK(all_records("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx") ==      // 6
        std::vector<Cells>{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}});
  CHECK(all_records("\"aaa\",\"b\"\"bb\",\"ccc\"") == std::vector<Cells>{{"aaa", "b\"bb", "ccc"}});  // 7
  const auto named = read("field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n");     // 3
  CHECK(named.header == Cells{"field_name", "field_name", "field_name"});
  CHECK(named.rows.size() == 2);
  CHECK(named.rows[1].line == 3);
  CHECK(all_records("a, b ,\r\n1,,2") == std::vector<Cells>{{"a", " b ", ""}, {"1", "", "2"}});  // 4: spaces count
}

TEST_CASE("what the RFC does not allow is said with line and column, and never guessed at", "[csv]") {
  const auto within = only_fault("a,b\r\n1,2\r\n3,x\"y\"\r\n");
  CHECK(within.code == "bad-quote");
  CHECK(within.line == 3);
  CHECK(within.column == 2);
  CHECK(only_fault("a,b\r\n\"1\"2,3\r\n").code == "bad-quote");
  const auto open = only_fault("a,b\r\n1,2\r\n3,\"4\r\n5,6\r\n");
  CHECK(open.code == "bad-quote");
  CHECK(open.line == 3);
  CHECK(only_fault("a,b\r\n1,2,3\r\n").code == "wrong-columns");
  CHECK(only_fault("a,b\r\n1;2\r\n").text == "This line has 1 cell, the header has 2. Cells are divided by commas.");
  CHECK(only_fault("a,b\r1,2\r").code == "bad-line-end");
  CHECK(only_fault(std::string("a,b\r\n1,\x01\r\n")).code == "control-character");
  CHECK(only_fault("").code == "empty-file");
}

TEST_CASE("lines are counted through quoted line ends, and rows before a fault are there", "[csv]") {
  const auto table = read("a,b\n\"1\n1\",2\n3,4\n5\n\"x\"y,6\n7,8\n");
  REQUIRE(table.rows.size() == 2);
  CHECK(table.rows[1].line == 4);
  REQUIRE(table.faults.size() == 2);
  CHECK(table.faults[0].line == 5);
  CHECK(table.faults[1].line == 6);
}

TEST_CASE("another encoding is named, with its place; a byte order mark is passed over", "[csv]") {
  const auto latin = only_fault(
      "household,area\r\nh-1,Vale\r\nh-2,Gr\xFC"
      "nau\r\n");
  CHECK(latin.code == "not-utf-8");
  CHECK(latin.line == 3);
  CHECK(latin.column == 2);
  CHECK(read("\xEF\xBB\xBFhousehold,area\r\n").header == Cells{"household", "area"});
  // RFC 3629, section 10: overlong forms, surrogates, too large; section 7: these are well formed.
  for (const char* bad : {"\xC0\x80", "\xE0\x80\x80", "\xED\xA1\x8C", "\xF4\x90\x80\x80", "\x80", "\xE6\x97"})
    CHECK(cellarer::json::first_not_utf8(bad) == 0);
  for (const char* well : {"A\xE2\x89\xA2\xCE\x91.", "\xED\x95\x9C\xEA\xB5\xAD\xEC\x96\xB4", "\xF0\xA3\x8E\xB4"})
    CHECK_FALSE(cellarer::json::first_not_utf8(well));
}

TEST_CASE("limits hold: rows, columns, length of a cell", "[csv]") {
  CHECK(read("a\n1\n2\n3\n", {2, 4, 9}).faults.front().code == "too-many-lines");
  CHECK(read("a,b,c\n", {2, 2, 9}).faults.front().code == "wrong-columns");
  CHECK(read("a\n1234567890\n", {2, 2, 9}).faults.front().code == "too-long");
}

TEST_CASE("a cell that a spreadsheet might run is written as text, a number keeps its sign, and both come back",
          "[csv]") {
  for (const char* cell : {"=1+2", "+cmd|' /C calc'!A0", "-2+3", "@SUM(1)", "\tx", "\rx", "=", "-"})
    CHECK(without_formula(cell) == "'" + std::string(cell));
  for (const char* cell : {"-5", "+3.5", "12", "a=b", "", "'x", "Mill's End"}) CHECK(without_formula(cell) == cell);
  Writer table({"household", "note"});
  const Cells hard{"=1+2", "say \"no\", then\r\nstop"};
  table.line(hard);
  CHECK(table.text() == "household,note\r\n'=1+2,\"say \"\"no\"\", then\r\nstop\"\r\n");
  const auto back = read(table.text());
  REQUIRE(back.rows.size() == 1);
  CHECK(with_formula(back.rows[0].cells[0]) == hard[0]);
  CHECK(back.rows[0].cells[1] == hard[1]);
  CHECK(with_formula("'x") == "'x");
}
