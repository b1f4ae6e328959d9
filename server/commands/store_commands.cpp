// SPDX-License-Identifier: MIT
// backup, restore, check: what is done to the store as a whole.
#include <iostream>
#include <memory>

#include <nlohmann/json.hpp>

#include "server/commands/command.hpp"
#include "server/store/maintenance.hpp"
#include "server/store/sqlite_store.hpp"

namespace cellarer::commands {

using nlohmann::json;

namespace {

struct Options {
  std::string data, file;
  bool as_json = false;
};

void add_common(CLI::App* app, Options& options) {
  app->add_option("--data", options.data, "folder of the store")->required();
  app->add_flag("--json", options.as_json, "answer as JSON");
}

void say(const Options& options, const json& document, const std::string& plain) {
  std::cout << (options.as_json ? document.dump() : plain) << "\n";
}

int run_backup(const Options& options) {
  store::backup(std::filesystem::path(options.data) / store::file_name, options.file);
  const auto bytes = std::filesystem::file_size(options.file);
  say(options, {{"file", options.file}, {"bytes", bytes}},
      "copied to " + options.file + ", " + std::to_string(bytes) + " bytes");
  return done;
}

int run_restore(const Options& options) {
  store::restore(options.file, options.data);
  const auto report = store::check(std::filesystem::path(options.data) / store::file_name);
  say(options, {{"data", options.data}, {"households", report.households}, {"entries", report.entries}},
      "restored into " + options.data + ": " + std::to_string(report.households) + " households, " +
          std::to_string(report.entries) + " entries");
  return report.faults.empty() ? done : failed;
}

int run_check(const Options& options) {
  const auto report = store::check(std::filesystem::path(options.data) / store::file_name);
  std::string plain = "schema " + std::to_string(report.schema) + "\n" + std::to_string(report.households) +
                      " households, " + std::to_string(report.entries) + " entries, " + std::to_string(report.voided) +
                      " of them taken back\n";
  for (const auto& fault : report.faults) plain += "fault: " + fault + "\n";
  plain += report.faults.empty() ? "no fault found" : std::to_string(report.faults.size()) + " faults found";
  say(options,
      {{"schema", report.schema},
       {"households", report.households},
       {"entries", report.entries},
       {"voided", report.voided},
       {"faults", report.faults}},
      plain);
  return report.faults.empty() ? done : failed;
}

}  // namespace

Command add_backup(CLI::App& parent) {
  auto options = std::make_shared<Options>();
  CLI::App* app = parent.add_subcommand("backup", "copy the store to one file, while the service runs or not");
  add_common(app, *options);
  app->add_option("file", options->file, "the copy; must not be there yet")->required();
  return {app, [options] { return run_backup(*options); }};
}

Command add_restore(CLI::App& parent) {
  auto options = std::make_shared<Options>();
  CLI::App* app = parent.add_subcommand("restore", "put a copy into an empty data folder, after checking it");
  add_common(app, *options);
  app->add_option("file", options->file, "a copy made by backup")->required();
  return {app, [options] { return run_restore(*options); }};
}

Command add_check(CLI::App& parent) {
  auto options = std::make_shared<Options>();
  CLI::App* app = parent.add_subcommand("check", "look whether the store is whole: integrity, schema, counts");
  add_common(app, *options);
  return {app, [options] { return run_check(*options); }};
}

}  // namespace cellarer::commands
