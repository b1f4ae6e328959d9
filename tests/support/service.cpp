// SPDX-License-Identifier: MIT
#include "tests/support/service.hpp"

#include <fcntl.h>
#include <signal.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <sstream>
#include <stdexcept>
#include <thread>

#include <date/date.h>

namespace cellarer::testing {

namespace {

const std::string program = std::string(CELLARER_BINARY_DIR) + "/server/cellarer";
const std::string profiles = std::string(CELLARER_SOURCE_DIR) + "/data";

pid_t start(const std::vector<std::string>& arguments, const std::string& out, const std::string& err) {
  std::vector<std::string> all{program};
  all.insert(all.end(), arguments.begin(), arguments.end());
  std::vector<char*> pointers;
  for (auto& argument : all) pointers.push_back(argument.data());
  pointers.push_back(nullptr);
  const pid_t child = fork();
  if (child != 0) return child;
  prctl(PR_SET_PDEATHSIG, SIGKILL);  // tests that end badly leave no service behind
  const int null = open("/dev/null", O_RDONLY);
  const int to_out = open(out.c_str(), O_CREAT | O_WRONLY | O_TRUNC, 0600);
  const int to_err = open(err.c_str(), O_CREAT | O_WRONLY | O_TRUNC, 0600);
  dup2(null, 0);
  dup2(to_out, 1);
  dup2(to_err, 2);
  execv(program.c_str(), pointers.data());
  _exit(127);
}

std::string read_file(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

/// What a program that does not end is doing: a line for each of its threads.
void tell_threads(pid_t process) {
  const auto tasks = "/proc/" + std::to_string(process) + "/task";
  std::error_code gone;
  for (const auto& task : std::filesystem::directory_iterator(tasks, gone)) {
    std::cerr << "thread " << task.path().filename().string();
    for (const char* file : {"comm", "wchan", "syscall", "stat"}) std::cerr << " | " << read_file(task.path() / file);
    std::cerr << std::endl;
  }
}

/// A program that does not end is told of and ends the tests: they would wait for ever.
int wait_for(pid_t process, const std::string& log) {
  constexpr std::chrono::minutes longest{5};
  const auto began = std::chrono::steady_clock::now();
  int status = 0;
  for (int ms = 1; waitpid(process, &status, WNOHANG) == 0; ms = std::min(2 * ms, 50)) {
    std::this_thread::sleep_for(std::chrono::milliseconds(ms));
    if (std::chrono::steady_clock::now() - began < longest) continue;
    std::cerr << "\nthe program did not end within " << longest.count() << " minutes; its log ends:\n";
    const auto text = read_file(log);
    std::cerr << text.substr(text.size() - std::min<std::size_t>(text.size(), 2000)) << "\n";
    tell_threads(process);
    kill(process, SIGKILL);
    std::abort();
  }
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace

Ended run_cellarer(const std::vector<std::string>& arguments) {
  const TemporaryFolder folder;
  const auto out = folder.path() / "out", err = folder.path() / "err";
  const int code = wait_for(start(arguments, out, err), err);
  return {code, read_file(out), read_file(err)};
}

Ended kill_cellarer(const std::vector<std::string>& arguments, const std::function<bool()>& is_time) {
  const TemporaryFolder folder;
  const auto out = folder.path() / "out", err = folder.path() / "err";
  const pid_t process = start(arguments, out, err);
  siginfo_t ended{};
  const auto runs = [&] {
    return waitid(P_PID, process, &ended, WEXITED | WNOHANG | WNOWAIT) == 0 && ended.si_pid == 0;
  };
  while (runs() && !is_time()) std::this_thread::sleep_for(std::chrono::milliseconds(1));
  kill(process, SIGKILL);
  const int code = wait_for(process, err);
  return {code, read_file(out), read_file(err)};
}

nlohmann::json forecast_of_export(const std::string& exported, const std::string& at) {
  const TemporaryFolder folder;
  const auto file = (folder.path() / "export.json").string();
  std::ofstream(file) << exported;
  const auto ended = run_cellarer({"forecast", file, "--at", at, "--json", "--profiles", profiles});
  if (ended.code != 0) throw std::runtime_error("cellarer forecast failed: " + ended.err);
  return nlohmann::json::parse(ended.out);
}

Service::Service(const nlohmann::json& config, const std::string& data, const std::vector<std::string>& more_arguments)
    : data_(data.empty() ? (folder_.path() / "data").string() : data) {
  std::vector<std::string> arguments{"serve", "--data", data_, "--port", "0", "--profiles", profiles, "--json"};
  if (!config.is_null()) {
    std::ofstream(folder_.path() / "config.json") << config.dump();
    arguments.insert(arguments.end(), {"--config", (folder_.path() / "config.json").string()});
  }
  arguments.insert(arguments.end(), more_arguments.begin(), more_arguments.end());
  process_ = start(arguments, folder_.path() / "out", folder_.path() / "log");
  for (int tries = 0; tries < 1200 && port_ == 0; ++tries) {
    const auto said = read_file(folder_.path() / "out");
    if (said.find('\n') != std::string::npos) {
      said_ = nlohmann::json::parse(said);
      port_ = said_["port"].get<int>();
    } else {
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    int status = 0;
    if (waitpid(process_, &status, WNOHANG) == process_) {
      process_ = -1;
      throw std::runtime_error("the service did not start: " + log());
    }
  }
  if (port_ == 0) throw std::runtime_error("the service said no port: " + log());
  if (config.is_object() && config.contains("tls")) return;  // its tests bring clients of their own
  sign_in_at(port_, let_in({"--role", "administrator", "--label", "Tests", "--without-passkey"}));
}

std::string Service::invite(const std::vector<std::string>& arguments) const {
  std::vector<std::string> all{"account", "add", "--data", data_, "--json"};
  all.insert(all.end(), arguments.begin(), arguments.end());
  const auto ended = run_cellarer(all);
  if (ended.code != 0) throw std::runtime_error("cellarer account add: " + ended.err);
  return nlohmann::json::parse(ended.out)["code"];
}

std::string Service::let_in(const std::vector<std::string>& arguments) const {
  HttpClient client(port_, "");
  const auto answer = client.post("/api/v1/invitations/accept", {{"code", invite(arguments)}});
  if (answer.status != 201) throw std::runtime_error("not let in: " + answer.body);
  return client.cookie();
}

Service::~Service() { terminate(); }

int Service::terminate() {
  if (process_ < 0) return -1;
  kill(process_, SIGTERM);
  const int code = wait_for(process_, folder_.path() / "log");
  process_ = -1;
  return code;
}

std::string Service::log() const { return read_file(folder_.path() / "log"); }

std::string from_now(long seconds) {
  const auto at =
      std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now()) + std::chrono::seconds(seconds);
  return date::format("%FT%TZ", at);
}

void Home::settle() {
  const auto sent = [&](const std::string& path, const nlohmann::json& body) {
    const auto answer = client.post("/api/v1" + path, body);
    if (answer.status != 201) throw std::runtime_error(path + ": " + std::to_string(answer.status) + " " + answer.body);
  };
  constexpr long day = 86400;
  sent("/households", {{"household", "h-1"}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}});
  sent("/households/h-1/units", {{"serial", "u-1"}, {"stimulator", "percent-power"}, {"from", from_now(-2 * day)}});
  for (const char* side : {"left", "right"}) {
    sent("/households/h-1/settings", {{"from", from_now(-2 * day)},
                                      {"side", side},
                                      {"rate_per_min", 12},
                                      {"inspiratory_fraction", 0.28},
                                      {"amplitude", 4.0}});
    sent("/households/h-1/cell-changes", {{"at", from_now(-day)},
                                          {"side", side},
                                          {"reason", "planned"},
                                          {"cells", {{"profile", "lr6-family"}, {"lot", "A1"}}},
                                          {"from_stock", false}});
  }
  sent("/households/h-1/stock-counts",
       {{"at", from_now(-day / 2)}, {"item", "cells"}, {"lot", "A1"}, {"quantity", 24}});
}

nlohmann::json Home::forecast() { return client.get("/api/v1/households/h-1/forecast").json(); }

int Home::cells() {
  const auto now = forecast();
  for (const auto& item : now["stock"]) {
    if (item["item"] == "cells") return item["quantity"].get<int>();
  }
  return -1;
}

}  // namespace cellarer::testing
