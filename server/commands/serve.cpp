// SPDX-License-Identifier: MIT
// serve: the service. Here its parts are put together, and here they end in order.
#include <fcntl.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <unistd.h>

#include <fstream>
#include <iostream>
#include <memory>
#include <sstream>
#include <thread>

#include <spdlog/spdlog.h>

#include "server/access/access_service.hpp"
#include "server/access/lifetimes.hpp"
#include "server/access/secrets.hpp"
#include "server/access/session_refresh.hpp"
#include "server/api/model_forecaster.hpp"
#include "server/api/phone_services.hpp"
#include "server/clock.hpp"
#include "server/commands/command.hpp"
#include "server/commands/libraries.hpp"
#include "server/http/server.hpp"
#include "server/log.hpp"
#include "server/reminders/round.hpp"
#include "server/service/planner_desk.hpp"
#include "server/service/review_renewal.hpp"
#include "server/store/backups.hpp"
#include "server/store/files.hpp"
#include "server/store/sqlite_store.hpp"

namespace cellarer::commands {

namespace {

struct ServeOptions {
  std::string data, config_file, host, web, profiles, public_address;
  std::optional<std::uint16_t> port;
  bool as_json = false;
};

Config configuration(const ServeOptions& options) {
  Config config;
  config.profiles = usual_profiles();
  if (!config.profiles.empty()) config.web = config.profiles.parent_path() / "web" / "dist";
  if (!options.config_file.empty()) {
    std::ifstream stream(options.config_file, std::ios::binary);
    if (!stream) throw std::runtime_error("cannot read " + options.config_file);
    std::ostringstream text;
    text << stream.rdbuf();
    const auto document = json::parse(text.str());
    read_config(json::Field(document, ""), config);
  }
  config.data = options.data;
  if (!options.host.empty()) config.host = options.host;
  if (!options.web.empty()) config.web = options.web;
  if (!options.profiles.empty()) config.profiles = options.profiles;
  if (options.port) config.port = *options.port;
  if (!options.public_address.empty()) config.public_address = options.public_address;
  require_protected_reach(config);
  return config;
}

/// One service a data folder: two would each keep forecasts that the other's writes outdate.
class DataLock {
 public:
  explicit DataLock(const std::filesystem::path& folder)
      : file_(open((folder / "cellarer.lock").c_str(), O_CREAT | O_RDWR | O_CLOEXEC, 0600)) {
    if (file_ < 0) throw std::runtime_error("cannot write into " + folder.string());
    if (flock(file_, LOCK_EX | LOCK_NB) != 0) {
      close(file_);
      throw std::runtime_error("another service runs on " + folder.string() + ": end it, or give another --data");
    }
  }
  ~DataLock() { close(file_); }
  DataLock(const DataLock&) = delete;
  DataLock& operator=(const DataLock&) = delete;

 private:
  int file_;
};

/// Fits every cell once, beside the service, so that nobody waits for it later.
void warm(const service::Libraries& libraries, const std::atomic<bool>& ending) {
  for (const auto& id : libraries.cell_ids()) {
    if (ending) return;
    try {
      libraries.cell(id);
    } catch (const std::exception& error) {
      spdlog::warn("cell profile {}: {}", id, error.what());
    }
  }
  spdlog::info("cell profiles are fitted");
}

/// Once a day, beside the service: what each agency's households have in common, and sessions of which nobody asks any
/// more.
void tidy_daily(service::HouseholdService& households, store::AccessStore& access, const std::atomic<bool>& ending) {
  constexpr std::chrono::hours a_day{24};
  auto next = std::chrono::steady_clock::now();
  for (; !ending; std::this_thread::sleep_for(std::chrono::milliseconds(200))) {
    if (std::chrono::steady_clock::now() < next) continue;
    next += a_day;
    try {
      const auto removed = access.remove_sessions_ended_before(households.clock().now() - access::ended_remembered);
      if (removed > 0) spdlog::info("removed {} sessions that ended long ago", removed);
      spdlog::info("learned from {} households", service::learn_agencies(households, ending));
    } catch (const std::exception& error) {
      spdlog::warn("the daily work: {}", error.what());
    }
  }
}

/// None where the configuration names no folder for them.
std::unique_ptr<store::BackupSchedule> scheduled_backups(const Config& config, const Clock& clock) {
  const auto file = config.data / store::file_name;
  const Backup& backup = config.backup;
  store::remove_leftovers(config.data);
  if (backup.folder.empty()) {
    store::remove_old_copies(file, backup.keep_days, clock.now());
    return nullptr;
  }
  return std::make_unique<store::BackupSchedule>(
      file, store::BackupPlan{backup.folder, backup.key_file, backup.every_h, backup.keep_days}, clock);
}

/// None where the configuration does not name whom push services may write to. The key stays the same for as long as
/// the data folder does: phones have subscribed with it.
std::unique_ptr<reminders::Round> reminding_round(const Config& config, service::HouseholdService& households,
                                                  store::Store& store, api::ForecastCache& forecasts,
                                                  api::PhoneServices& phone) {
  phone.local_service = config.push.local_service;
  if (config.push.contact.empty()) return nullptr;
  auto vapid = push::Vapid::kept_in(config.data / "push-key.pem");
  phone.push_key = access::base64url(vapid.public_key());
  auto round = std::make_unique<reminders::Round>(
      households, store.reminders(), push::Sender(std::move(vapid), {config.push.contact, config.push.local_service}),
      [&forecasts](const std::string& household) { return nlohmann::json::parse(*forecasts.get(household)->forecast); },
      std::chrono::seconds(config.push.every_s));
  phone.go_round = [to = round.get()] { to->wake(); };
  return round;
}

/// By this name browsers take passkeys and Secure cookies without TLS; an address of numbers they refuse.
std::string local_address(const Config& config, std::uint16_t port) {
  const bool loopback = config.host == "localhost" || config.host == "::1" || config.host.starts_with("127.");
  return (config.tls.named() ? "https://" : "http://") + (loopback ? std::string("localhost") : config.host) + ":" +
         std::to_string(port);
}

/// On standard output, never in the log: where it serves, and until somebody has come in, a link for the first
/// administrator.
void say_started(const ServeOptions& options, const Config& config, std::uint16_t port, access::AccessService& access) {
  const auto link = access::first_administrator_link(access);
  if (options.as_json) {
    nlohmann::json said{{"host", config.host}, {"port", port}, {"address", access.public_address()}};
    if (link) said["first_administrator"] = *link;
    std::cout << said.dump() << std::endl;
  } else if (link) {
    std::cout << "Nobody has signed in yet. This link makes the first administrator, once, within a day:\n"
              << *link << std::endl;
  }
}

int run_serve(const ServeOptions& options) {
  prepare_log(options.as_json);
  const Config config = configuration(options);
  std::filesystem::create_directories(config.data);
  const DataLock lock(config.data);
  const auto libraries = open_libraries(config.profiles);
  const auto store = store::open_sqlite_store(config.data / store::file_name);
  const SystemClock clock;
  const auto backups = scheduled_backups(config, clock);
  const api::ModelForecaster forecaster;
  service::HouseholdService households(*store, clock, *libraries);
  api::ForecastCache forecasts(households, forecaster);
  access::AccessService access(store->access(), clock);
  Warnings warnings;
  service::PlannerDesk desk(*store, households);
  service::ReviewBook review(households);
  service::EffectBook effects(households);
  api::EventPlaces event_places(config.limits);
  access::Feeds feeds(store->reminders(), clock);
  api::PhoneServices phone{feeds, store->reminders(), "", ""};
  const api::Dispatcher dispatcher(
      {households, forecasts, forecaster, access, &warnings, &desk, &review, &effects, &event_places, &phone});
  const http::StaticFiles files(config.web);
  http::Server server(config, dispatcher, files, warnings);
  access.serve_at(config.public_address.empty() ? local_address(config, server.port()) : config.public_address);
  desk.begin();
  std::atomic<bool> ending{false};
  std::thread beside([&] {
    warm(*libraries, ending);          // not below others: a request may wait for the cell that is being fitted
    setpriority(PRIO_PROCESS, 0, 19);  // of this thread alone, on Linux
    tidy_daily(households, store->access(), ending);
  });
  spdlog::info("serving {}://{}:{} with {} files of pages, data in {}", config.tls.named() ? "https" : "http",
               config.host, server.port(), files.size(), config.data.string());
  say_started(options, config, server.port(), access);
  {
    const access::SessionRefresh refresh(access.sessions());
    const service::ReviewRenewal renewal(review, effects);
    const auto round = reminding_round(config, households, *store, forecasts, phone);
    server.run();
  }
  ending = true;
  beside.join();
  store->checkpoint();
  spdlog::info("ended in order");
  return done;
}

}  // namespace

Command add_serve(CLI::App& parent) {
  auto options = std::make_shared<ServeOptions>();
  CLI::App* app = parent.add_subcommand("serve", "the service: HTTP API and pages");
  app->add_option("--data", options->data, "folder of the store; made where it is not there")->required();
  app->add_option("--port", options->port, "8080 where not given; 0 for any free one");
  app->add_option("--host", options->host,
                  "127.0.0.1 where not given; beyond this machine only with TLS or a named proxy");
  app->add_option("--public-address", options->public_address, "what people type and links begin with: https://...");
  app->add_option("--web", options->web, "folder of the built pages");
  app->add_option("--profiles", options->profiles, "folder with cells/ and stimulators/");
  app->add_option("--config", options->config_file, "JSON file with limits and threads (server/config.hpp)");
  app->add_flag("--json", options->as_json, "log as JSON, and say host and port as JSON on standard output");
  return {app, [options] { return run_serve(*options); }};
}

}  // namespace cellarer::commands
