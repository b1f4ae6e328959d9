// SPDX-License-Identifier: MIT
// load: many households at once, from a file, while no service runs on the folder. For trying things out and for
// moving in: what is loaded keeps the times at which it was recorded.
#include <fstream>
#include <iostream>
#include <memory>

#include "server/commands/command.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/service/fold.hpp"
#include "server/store/sqlite_store.hpp"

namespace cellarer::commands {

using cellarer::json::Field;

namespace {

constexpr std::size_t households_at_a_time = 100;

struct LoadOptions {
  std::string data, file, agency = "agency";
  bool as_json = false;
};

/// Knows no profile: to see whether entries can be read, none is needed.
class NoLibraries final : public service::Libraries {
 public:
  std::optional<cell::Profile> cell(const std::string&) const override { return std::nullopt; }
  std::optional<duty::Stimulator> stimulator(const std::string&) const override { return std::nullopt; }
  std::vector<std::string> cell_ids() const override { return {}; }
  std::vector<std::string> stimulator_ids() const override { return {}; }
  std::optional<nlohmann::json> stimulator_document(const std::string&) const override { return std::nullopt; }
  cell::Profile fit(const nlohmann::json&, const std::string&) const override { return {}; }
};

struct Loaded {
  std::size_t households = 0, entries = 0, agency_entries = 0;
};

class Loading {
 public:
  Loading(store::Store& store, const LoadOptions& options) : store_(store), options_(options) {}

  /// One line of the file: a household with its entries, or an entry of the agency.
  void add(const std::string& text) {
    const auto document = cellarer::json::parse(text);
    const Field line(document, "");
    if (const auto entry = line.find("agency_entry"))
      add_agency_entry(*entry);
    else
      add_household(line);
    if (batch_.households.size() >= households_at_a_time) write();
  }

  Loaded finish() {
    write();
    return loaded_;
  }

 private:
  void add_agency_entry(const Field& entry) {
    store::NewAgencyEntry fresh;
    fresh.agency = options_.agency;
    fresh.kind = entry["kind"].text(60);
    const auto subject = entry.find("subject");
    fresh.subject = subject ? subject->text(120) : "";
    fresh.recorded_at = service::read_time(entry["recorded_at"]);
    fresh.body = entry["body"].value().dump();
    fresh.key = "load/" + std::to_string(++loaded_.agency_entries);
    batch_.agency_entries.push_back(std::move(fresh));
  }

  void add_household(const Field& line) {
    const auto reference = service::read_household_fact(line["household"]).reference;
    const auto key = household_key(options_.agency, reference);
    const store::StoredHousehold home{reference, line["household"].value().dump(), {}, 0};
    std::vector<store::StoredEntry> stored;
    for (const Field& entry : line["entries"].elements()) {
      store::StoredEntry one;
      one.number = static_cast<std::int64_t>(stored.size()) + 1;
      one.kind = entry["kind"].text(60);
      one.at = service::read_time(entry["at"]);
      one.recorded_at = service::read_time(entry["recorded_at"]);
      if (const auto who = entry.find("who")) one.who = who->text(80);
      one.body = entry["body"].value().dump();
      batch_.entries.push_back({key, one.kind, one.at, one.recorded_at, one.who, one.body,
                                "load/" + std::to_string(one.number), std::nullopt, ""});
      stored.push_back(std::move(one));
    }
    service::fold(home, stored, NoLibraries());  // refuses what cannot be read, before anything is stored
    batch_.households.push_back({key, home.document, "load/" + key, service::read_time(line["recorded_at"])});
    ++loaded_.households;
    loaded_.entries += stored.size();
  }

  void write() {
    if (batch_.households.empty() && batch_.agency_entries.empty()) return;
    const auto written = store_.write_together(batch_);
    if (!store::is_kept(written.outcome)) {
      const bool home = written.failed < batch_.households.size();
      throw std::runtime_error((home ? "the household " + reference_of(batch_.households[written.failed].reference)
                                     : std::string("an entry")) +
                               " is there already, with another content: nothing of its batch was loaded");
    }
    batch_ = {};
  }

  store::Store& store_;
  const LoadOptions& options_;
  store::Batch batch_;
  Loaded loaded_;
};

int run_load(const LoadOptions& options) {
  std::ifstream file(options.file, std::ios::binary);
  if (!file) throw std::runtime_error("cannot read " + options.file);
  std::filesystem::create_directories(options.data);
  const auto store = store::open_sqlite_store(std::filesystem::path(options.data) / store::file_name);
  if (!store->access().has_agency(options.agency)) throw std::invalid_argument("there is no agency " + options.agency);
  Loading loading(*store, options);
  std::size_t number = 0;
  for (std::string line; std::getline(file, line);) {
    ++number;
    if (line.empty()) continue;
    try {
      loading.add(line);
    } catch (const cellarer::json::Refused& refused) {
      throw std::runtime_error(options.file + ", line " + std::to_string(number) + ": " + refused.what());
    }
  }
  const auto loaded = loading.finish();
  store->checkpoint();
  if (options.as_json) {
    std::cout << nlohmann::json{{"households", loaded.households},
                                {"entries", loaded.entries},
                                {"agency_entries", loaded.agency_entries}}
                     .dump()
              << "\n";
  } else {
    std::cout << "loaded " << loaded.households << " households with " << loaded.entries << " entries\n";
  }
  return done;
}

}  // namespace

Command add_load(CLI::App& parent) {
  auto options = std::make_shared<LoadOptions>();
  CLI::App* app = parent.add_subcommand("load", "many households with their entries, from a file of one a line");
  app->add_option("--data", options->data, "folder of the store; no service may run on it")->required();
  app->add_option("--agency", options->agency, "'agency' where not given");
  app->add_option("file", options->file, "JSON, a household or an entry of the agency a line")->required();
  app->add_flag("--json", options->as_json, "answer as JSON");
  return {app, [options] { return run_load(*options); }};
}

}  // namespace cellarer::commands
