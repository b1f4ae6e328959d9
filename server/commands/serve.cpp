// SPDX-License-Identifier: MIT
// serve: the service. Here its parts are put together, and here they end in order.
#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <fstream>
#include <iostream>
#include <memory>
#include <sstream>
#include <thread>

#include <spdlog/sinks/stdout_color_sinks.h>
#include <spdlog/spdlog.h>

#include "server/api/model_forecaster.hpp"
#include "server/clock.hpp"
#include "server/commands/command.hpp"
#include "server/commands/libraries.hpp"
#include "server/http/server.hpp"
#include "server/store/sqlite_store.hpp"

namespace cellarer::commands {

namespace {

struct Options {
  std::string data, config_file, host, web, profiles;
  std::optional<std::uint16_t> port;
  bool as_json = false;
};

Config configuration(const Options& options) {
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
  require_loopback(config.host);
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

void prepare_log(bool as_json) {
  auto log = spdlog::stderr_color_mt("cellarer");
  log->set_pattern(as_json ? R"({"at":"%Y-%m-%dT%H:%M:%S.%e%z","level":"%l","text":"%v"})"
                           : "%Y-%m-%dT%H:%M:%S.%e%z %l %v");
  log->flush_on(spdlog::level::info);
  spdlog::set_default_logger(log);
}

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

int run_serve(const Options& options) {
  prepare_log(options.as_json);
  const Config config = configuration(options);
  std::filesystem::create_directories(config.data);
  const DataLock lock(config.data);
  const auto libraries = open_libraries(config.profiles);
  const auto store = store::open_sqlite_store(config.data / store::file_name);
  const SystemClock clock;
  const api::ModelForecaster forecaster;
  service::HouseholdService households(*store, clock, *libraries);
  api::ForecastCache forecasts(households, forecaster);
  const api::Dispatcher dispatcher({households, forecasts, forecaster});
  const http::StaticFiles files(config.web);
  http::Server server(config, dispatcher, files);
  std::atomic<bool> ending{false};
  std::thread warming([&] { warm(*libraries, ending); });
  spdlog::info("serving http://{}:{} with {} files of pages, data in {}", config.host, server.port(), files.size(),
               config.data.string());
  if (options.as_json) std::cout << nlohmann::json{{"host", config.host}, {"port", server.port()}}.dump() << std::endl;
  server.run();
  ending = true;
  warming.join();
  store->checkpoint();
  spdlog::info("ended in order");
  return done;
}

}  // namespace

Command add_serve(CLI::App& parent) {
  auto options = std::make_shared<Options>();
  CLI::App* app = parent.add_subcommand("serve", "the service: HTTP API and pages, on this machine only");
  app->add_option("--data", options->data, "folder of the store; made where it is not there")->required();
  app->add_option("--port", options->port, "8080 where not given; 0 for any free one");
  app->add_option("--host", options->host, "127.0.0.1 where not given; only a loopback address is taken");
  app->add_option("--web", options->web, "folder of the built pages");
  app->add_option("--profiles", options->profiles, "folder with cells/ and stimulators/");
  app->add_option("--config", options->config_file, "JSON file with limits and threads (server/config.hpp)");
  app->add_flag("--json", options->as_json, "log as JSON, and say host and port as JSON on standard output");
  return {app, [options] { return run_serve(*options); }};
}

}  // namespace cellarer::commands
