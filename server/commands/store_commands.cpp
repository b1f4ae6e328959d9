// SPDX-License-Identifier: MIT
// backup, restore, check: what is done to the store as a whole.
#include <iostream>
#include <memory>

#include <nlohmann/json.hpp>

#include "server/commands/command.hpp"
#include "server/store/backups.hpp"
#include "server/store/sqlite_store.hpp"

namespace cellarer::commands {

namespace {

struct StoreOptions {
  std::string data, file, key_file, new_key_file;
  bool as_json = false;
};

std::filesystem::path store_of(const StoreOptions& options) {
  return std::filesystem::path(options.data) / store::file_name;
}

void say(const StoreOptions& options, const nlohmann::json& document, const std::string& plain) {
  std::cout << (options.as_json ? document.dump() : plain) << "\n";
}

std::string counted(const store::Report& report) {
  return std::to_string(report.households) + " households, " + std::to_string(report.entries) + " entries";
}

int run_backup(const StoreOptions& options) {
  if (!options.new_key_file.empty()) {
    store::make_key(options.new_key_file);
    say(options, {{"key_file", options.new_key_file}},
        "a new key is in " + options.new_key_file + ": keep a copy of it elsewhere; without it no backup opens");
    return done;
  }
  if (options.data.empty() || options.file.empty()) throw CLI::RequiredError("--data DIR and the copy's file");
  if (options.key_file.empty())
    store::backup(store_of(options), options.file);
  else
    store::make_backup(store_of(options), options.file, store::read_key(options.key_file));
  const auto bytes = std::filesystem::file_size(options.file);
  const bool encrypted = !options.key_file.empty();
  say(options, {{"file", options.file}, {"bytes", bytes}, {"encrypted", encrypted}},
      "copied to " + options.file + ", " + std::to_string(bytes) + " bytes" +
          (encrypted ? ", encrypted, restored for trial and compared" : ", not encrypted (--key-file)"));
  return done;
}

/// Of an encrypted file, or none where the file is none.
std::optional<store::BackupKey> key_for(const StoreOptions& options) {
  if (!store::is_sealed(options.file)) return std::nullopt;
  if (options.key_file.empty()) {
    throw std::runtime_error(options.file + " is encrypted: name its key with --key-file");
  }
  return store::read_key(options.key_file);
}

int run_restore(const StoreOptions& options) {
  if (const auto key = key_for(options))
    store::restore_backup(options.file, options.data, *key);
  else
    store::restore(options.file, options.data);
  const auto report = store::check(store_of(options));
  say(options, {{"data", options.data}, {"households", report.households}, {"entries", report.entries}},
      "restored into " + options.data + ": " + counted(report) +
          "\nWhat was erased after this copy was made is back: erase it again.");
  return report.faults.empty() ? done : failed;
}

store::Report checked(const StoreOptions& options) {
  if (options.file.empty()) return store::check(store_of(options));
  if (key_for(options)) return store::check_backup(options.file, options.key_file);
  return store::check(options.file);
}

int run_check(const StoreOptions& options) {
  if (options.data.empty() == options.file.empty()) throw CLI::RequiredError("either --data DIR or a copy's file");
  const auto report = checked(options);
  std::string plain = "schema " + std::to_string(report.schema) + "\n" + counted(report) + ", " +
                      std::to_string(report.voided) + " of them taken back\n";
  for (const auto& head : report.heads) plain += "trail of " + head + "\n";
  for (const auto& fault : report.faults) plain += "fault: " + fault + "\n";
  plain += report.faults.empty() ? "no fault found" : std::to_string(report.faults.size()) + " faults found";
  say(options,
      {{"schema", report.schema},
       {"households", report.households},
       {"entries", report.entries},
       {"voided", report.voided},
       {"heads", report.heads},
       {"faults", report.faults}},
      plain);
  return report.faults.empty() ? done : failed;
}

}  // namespace

Command add_backup(CLI::App& parent) {
  auto options = std::make_shared<StoreOptions>();
  CLI::App* app = parent.add_subcommand("backup", "copy the store to one file, while the service runs or not");
  app->add_option("--data", options->data, "folder of the store");
  app->add_option("file", options->file, "the copy; must not be there yet");
  app->add_option("--key-file", options->key_file, "encrypt the copy with this key, restore it for trial and compare");
  app->add_option("--make-key", options->new_key_file, "write a new key to this file, and nothing else");
  app->add_flag("--json", options->as_json, "answer as JSON");
  return {app, [options] { return run_backup(*options); }};
}

Command add_restore(CLI::App& parent) {
  auto options = std::make_shared<StoreOptions>();
  CLI::App* app = parent.add_subcommand("restore", "put a copy into an empty data folder, after checking it");
  app->add_option("--data", options->data, "folder of the store")->required();
  app->add_option("file", options->file, "a copy made by backup")->required();
  app->add_option("--key-file", options->key_file, "the key of an encrypted copy");
  app->add_flag("--json", options->as_json, "answer as JSON");
  return {app, [options] { return run_restore(*options); }};
}

Command add_check(CLI::App& parent) {
  auto options = std::make_shared<StoreOptions>();
  CLI::App* app = parent.add_subcommand(
      "check", "look whether the store, or a copy, is whole: integrity, counts, and the audit trail against the rows");
  app->add_option("--data", options->data, "folder of the store");
  app->add_option("file", options->file, "a copy made by backup, instead of a store");
  app->add_option("--key-file", options->key_file, "the key of an encrypted copy");
  app->add_flag("--json", options->as_json, "answer as JSON");
  return {app, [options] { return run_check(*options); }};
}

}  // namespace cellarer::commands
