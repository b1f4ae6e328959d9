// SPDX-License-Identifier: MIT
#pragma once
#include <sys/types.h>

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "tests/support/http_client.hpp"
#include "tests/support/temporary_folder.hpp"

namespace cellarer::testing {

inline const std::string api = "/api/v1", at_home = "/api/v1/households/h-1";
inline const std::string delivered_profiles = std::string(CELLARER_SOURCE_DIR) + "/data";

/// How a program ended.
struct Ended {
  int code = -1;  ///< of its exit; -1 where a signal ended it
  std::string out, err;
};

/// Runs `build/server/cellarer` with these arguments to its end.
Ended run_cellarer(const std::vector<std::string>& arguments);

/// The same, but killed (SIGKILL) as soon as `is_time` holds, which is asked every millisecond.
Ended kill_cellarer(const std::vector<std::string>& arguments, const std::function<bool()>& is_time);

/// What `cellarer forecast --json` makes of an exported household. Throws where it fails.
nlohmann::json forecast_of_export(const std::string& exported, const std::string& at);

/// The real program, serving on a free port from a folder of its own, until the end of the test. Clients begin signed
/// in as administrator of the agency "agency".
class Service {
 public:
  /// `config` is written to a file for --config. With `data`, on that folder.
  explicit Service(const nlohmann::json& config = nullptr, const std::string& data = "",
                   const std::vector<std::string>& more_arguments = {});
  ~Service();
  Service(const Service&) = delete;
  Service& operator=(const Service&) = delete;

  int port() const { return port_; }
  std::string data() const { return data_; }
  pid_t process() const { return process_; }
  /// What it said at its start, as JSON.
  const nlohmann::json& said() const { return said_; }
  /// `cellarer account add` with these arguments; the one-time code.
  std::string invite(const std::vector<std::string>& arguments) const;
  /// A phone or a program that has just come in by such a code; its cookie.
  std::string let_in(const std::vector<std::string>& arguments) const;
  /// Sends SIGTERM and waits; the exit code.
  int terminate();
  std::string log() const;

 private:
  TemporaryFolder folder_;
  std::string data_;
  pid_t process_ = -1;
  int port_ = 0;
  nlohmann::json said_;
};

/// A service with one client and a household `h-1` in Oslo: unit, settings of both sides, fresh cells in both
/// since yesterday, and 24 cells of lot A1 in stock.
struct Home {
  explicit Home(const nlohmann::json& config = nullptr) : service(config), client(service.port()) { settle(); }
  void settle();
  /// Cells in stock by the forecast.
  int cells();
  nlohmann::json forecast();

  Service service;
  HttpClient client;
};

/// RFC 3339 in UTC, so many seconds from now.
std::string from_now(long seconds);
inline constexpr long day_s = 86400;

}  // namespace cellarer::testing
