// SPDX-License-Identifier: MIT
#include "server/config.hpp"

#include <algorithm>

#include <boost/asio/ip/address.hpp>

namespace cellarer {

using json::Field;

namespace {

/// A misspelt limit must not be a limit that silently does not hold.
void refuse_unknown(const Field& object, std::initializer_list<const char*> known) {
  if (!object.value().is_object()) object.refuse("wrong-type", "expected an object");
  for (auto member = object.value().begin(); member != object.value().end(); ++member) {
    const std::string& name = member.key();
    const bool is_known = std::any_of(known.begin(), known.end(), [&](const char* one) { return name == one; });
    if (is_known) continue;
    Field(*member, object.place() + "/" + name).refuse("out-of-range", "is no setting of this service");
  }
}

template <class Number>
void take(const Field& object, const char* name, int lowest, int highest, Number& to) {
  if (const auto found = object.find(name)) to = static_cast<Number>(found->integer(lowest, highest));
}

void read_limits(const Field& object, Limits& limits) {
  refuse_unknown(object, {"header_bytes", "target_bytes", "body_bytes", "header_s", "body_s", "write_s", "idle_s",
                          "connections", "waiting", "shutdown_s"});
  take(object, "header_bytes", 1024, 1 << 20, limits.header_bytes);
  take(object, "target_bytes", 128, 1 << 16, limits.target_bytes);
  take(object, "body_bytes", 1024, 1 << 26, limits.body_bytes);
  take(object, "header_s", 1, 600, limits.header_s);
  take(object, "body_s", 1, 600, limits.body_s);
  take(object, "write_s", 1, 600, limits.write_s);
  take(object, "idle_s", 1, 3600, limits.idle_s);
  take(object, "connections", 1, 100'000, limits.connections);
  take(object, "waiting", 1, 1'000'000, limits.waiting);
  take(object, "shutdown_s", 0, 600, limits.shutdown_s);
}

}  // namespace

void read_config(const Field& file, Config& config) {
  refuse_unknown(file, {"host", "port", "web", "profiles", "io_threads", "compute_threads", "write_threads", "limits"});
  if (const auto host = file.find("host")) config.host = host->text();
  if (const auto web = file.find("web")) config.web = web->text(4096);
  if (const auto profiles = file.find("profiles")) config.profiles = profiles->text(4096);
  take(file, "port", 0, 65535, config.port);
  take(file, "io_threads", 1, 64, config.io_threads);
  take(file, "compute_threads", 1, 256, config.compute_threads);
  take(file, "write_threads", 1, 256, config.write_threads);
  if (const auto limits = file.find("limits")) read_limits(*limits, config.limits);
}

void require_loopback(const std::string& host) {
  boost::system::error_code error;
  const auto address = boost::asio::ip::make_address(host == "localhost" ? "127.0.0.1" : host, error);
  if (!error && address.is_loopback()) return;
  throw std::invalid_argument(
      "refuses to listen on " + host +
      ": there is no sign-in yet, so whoever reaches the service may read and write every household. Give --host "
      "127.0.0.1 (or ::1)" +
      (error ? "; a name or anything but an address is not taken" : ""));
}

}  // namespace cellarer
