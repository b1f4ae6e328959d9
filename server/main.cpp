// SPDX-License-Identifier: MIT
// The command: each part in server/commands/. Answers on stdout, everything else on stderr; exit code 0 done,
// 1 failed or refused, 2 not understood.
#include <sys/stat.h>

#include <iostream>

#include "server/commands/command.hpp"
#include "server/heap.hpp"

namespace {

using namespace cellarer::commands;

int run(const std::vector<Command>& commands) {
  for (const Command& command : commands) {
    if (*command.app) return command.run();
  }
  return usage;
}

}  // namespace

int main(int count, char** values) {
  umask(077);  // what is written here is nobody else's to read
  cellarer::keep_freed_memory();
  CLI::App app{
      "Forecasts how long the cells of a pacing stimulator will last, and when to change and to order them.\n"
      "An estimate. The unit's own alarm comes first: act on it at once.",
      "cellarer"};
  app.set_version_flag("--version", std::string("cellarer 0.1.0"));
  app.require_subcommand(1);
  const std::vector<Command> commands{add_serve(app),      add_fit(app),    add_runtime(app), add_forecast(app),
                                      add_reforecast(app), add_backup(app), add_restore(app), add_check(app),
                                      add_account(app),    add_load(app)};
  try {
    app.parse(count, values);
  } catch (const CLI::ParseError& error) {
    // --help and --version end here too, and are no failure.
    const int code = app.exit(error, std::cout, std::cerr);
    return code == 0 ? done : usage;
  }
  try {
    return run(commands);
  } catch (const CLI::ParseError& error) {
    std::cerr << "cellarer: " << error.what() << "\n";
    return usage;
  } catch (const std::exception& error) {
    std::cerr << "cellarer: " << error.what() << "\n";
    return failed;
  }
}
