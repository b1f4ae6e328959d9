// SPDX-License-Identifier: MIT
#pragma once
#include <functional>

#include <CLI/CLI.hpp>

/// The parts of the `cellarer` command. Each part lives in a file of its own, adds its subcommand with its
/// options to the parent, and hands back what to run when it was chosen:
///
///     Command add_fit(CLI::App& parent) {
///       auto options = std::make_shared<FitOptions>();
///       CLI::App* app = parent.add_subcommand("fit", "...");
///       app->add_option("file", options->file, "...")->required();
///       return {app, [options] { return run_fit(*options); }};
///     }
///
/// `run` answers the exit code. It may throw `json::Refused` or any std::exception: main prints
/// "cellarer: <what>" on stderr and answers `failed`. Answers go to stdout, everything else to stderr.
namespace cellarer::commands {

enum ExitCode : int { done = 0, failed = 1, usage = 2 };

struct Command {
  CLI::App* app;
  std::function<int()> run;
};

Command add_serve(CLI::App& parent);
Command add_fit(CLI::App& parent);
Command add_runtime(CLI::App& parent);
Command add_forecast(CLI::App& parent);
Command add_reforecast(CLI::App& parent);
Command add_backup(CLI::App& parent);
Command add_restore(CLI::App& parent);
Command add_check(CLI::App& parent);
Command add_account(CLI::App& parent);
Command add_load(CLI::App& parent);

}  // namespace cellarer::commands
