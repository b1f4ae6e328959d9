// SPDX-License-Identifier: MIT
// fit: the curve of one cell file; --table: how near the fits of a folder come.
#include <unistd.h>

#include <filesystem>
#include <iostream>
#include <memory>

#include "model/cell/learn.hpp"
#include "server/commands/cell_files.hpp"
#include "server/commands/command.hpp"
#include "server/commands/fit_text.hpp"
#include "server/commands/prior_text.hpp"

namespace cellarer::commands {

namespace {

struct FitOptions {
  std::string path;
  bool table = false, prior = false, as_json = false;
};

/// One line on stderr that is written over, and only where someone looks at a terminal.
void show_progress(int done_parts, int parts) {
  if (isatty(STDERR_FILENO) == 0) return;
  std::cerr << "\rfitting " << done_parts << " of " << parts << (done_parts == parts ? "\r\033[K" : "") << std::flush;
}

int run_table(const FitOptions& options) {
  cell::ScoreOptions choice;
  choice.progress = show_progress;
  const auto document = table_document(cell::score(read_cell_folder(options.path), choice));
  std::cout << (options.as_json ? document.dump(2) + "\n" : table_text(document));
  return done;
}

int run_one(const FitOptions& options) {
  const cell::PublishedCell cell = read_cell_path(options.path);
  const auto document = fit_document(cell, cell::fit(cell));
  std::cout << (options.as_json ? document.dump(2) + "\n" : fit_text(document));
  return done;
}

int run_fit(const FitOptions& options) {
  const bool folder = std::filesystem::is_directory(options.path);
  if (folder && !options.table && !options.prior) {
    throw CLI::ValidationError("path", options.path + " is a folder: add --table to score it, or name one cell file");
  }
  if (!folder && (options.table || options.prior)) {
    throw CLI::ValidationError("path", "--table and --prior need a folder of cell files, such as data/cells");
  }
  if (options.prior) {
    std::cout << prior_source(cell::learn_prior(cell::learnable(read_cell_folder(options.path)), {}));
    return done;
  }
  return folder ? run_table(options) : run_one(options);
}

}  // namespace

Command add_fit(CLI::App& parent) {
  auto options = std::make_shared<FitOptions>();
  CLI::App* app = parent.add_subcommand("fit", "the curve of a cell from its published discharges");
  app->add_option("path", options->path, "a cell file (- is standard input), or with --table a folder of them")
      ->required();
  app->add_flag("--table", options->table, "score every file of the folder: the accuracy table");
  app->add_flag("--prior", options->prior,
                "print the family's prior learned from the folder, as model/cell/lr6_prior.cpp");
  app->add_flag("--json", options->as_json, "answer as JSON");
  return {app, [options] { return run_fit(*options); }};
}

}  // namespace cellarer::commands
