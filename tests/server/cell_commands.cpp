// SPDX-License-Identifier: MIT
#include <string>

#include "server/commands/command.hpp"
#include "server/commands/fit_text.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;

TEST_CASE("a value of runtime that is no number within its range is a mistake in the command") {
  const char* options[] = {"--current-ma",    "--resistance-ohm", "--power-mw",    "--cutoff-v",
                           "--hours-per-day", "--temperature-c",  "--fixture-ohm", "--beside-used-percent"};
  for (const char* option : options) {
    for (const char* value : {"nan", "NaN", "-nan", "inf", "-inf", "1e999", "-70", "x", ""}) {
      CLI::App app;
      const auto runtime = commands::add_runtime(app);  // owns what the options are read into
      INFO(option << " " << value);
      CHECK_THROWS_AS(app.parse(std::string("runtime cell.json --cutoff-v 0.9 ") + option + "=" + value),
                      CLI::ParseError);
    }
  }
  CLI::App app;
  const auto runtime = commands::add_runtime(app);  // owns what the options are read into
  CHECK_NOTHROW(app.parse("runtime cell.json --cutoff-v 0.9 --current-ma 100 --fixture-ohm 0.5"));
}

TEST_CASE("where nothing is scored the table says none, not an error of nought") {
  const auto document = commands::table_document({});
  for (const auto& line : document.at("summary")) {
    CHECK(line.at("percent").is_null());
    CHECK(line.at("reached").is_null());
  }
  const std::string text = commands::table_text(document);
  CHECK(text.find("none %") == std::string::npos);
  CHECK(text.find("none") != std::string::npos);
  CHECK(text.find(" 0.00 %") == std::string::npos);
}
