// SPDX-License-Identifier: MIT
#include "server/config.hpp"

#include <algorithm>
#include <cctype>
#include <regex>

#include <boost/asio/ip/address.hpp>
#include <boost/asio/ip/network_v4.hpp>
#include <boost/asio/ip/network_v6.hpp>

namespace cellarer {

using json::Field;

namespace {

bool is_network(const std::string& text) {
  boost::system::error_code error;
  boost::asio::ip::make_address(text, error);
  if (error) boost::asio::ip::make_network_v4(text, error);
  if (error) boost::asio::ip::make_network_v6(text, error);
  return !error;
}

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
  refuse_unknown(object, {"header_bytes", "target_bytes", "body_bytes", "handshake_s", "header_s", "body_s", "write_s",
                          "idle_s", "connections", "address_connections", "waiting", "event_streams",
                          "address_event_streams", "heartbeat_s", "shutdown_s"});
  take(object, "header_bytes", 1024, 1 << 20, limits.header_bytes);
  take(object, "target_bytes", 128, 1 << 16, limits.target_bytes);
  take(object, "body_bytes", 1024, 1 << 26, limits.body_bytes);
  take(object, "handshake_s", 1, 600, limits.handshake_s);
  take(object, "header_s", 1, 600, limits.header_s);
  take(object, "body_s", 1, 600, limits.body_s);
  take(object, "write_s", 1, 600, limits.write_s);
  take(object, "idle_s", 1, 3600, limits.idle_s);
  take(object, "connections", 1, 100'000, limits.connections);
  take(object, "address_connections", 1, 100'000, limits.address_connections);
  take(object, "waiting", 1, 1'000'000, limits.waiting);
  take(object, "event_streams", 0, 100'000, limits.event_streams);
  take(object, "address_event_streams", 0, 100'000, limits.address_event_streams);
  take(object, "heartbeat_s", 1, 600, limits.heartbeat_s);
  take(object, "shutdown_s", 0, 600, limits.shutdown_s);
}

void read_backup(const Field& object, Backup& backup) {
  refuse_unknown(object, {"folder", "key_file", "every_h", "keep_days"});
  backup.folder = object["folder"].text(4096);
  backup.key_file = object["key_file"].text(4096);
  take(object, "every_h", 1, 24 * 7, backup.every_h);
  take(object, "keep_days", 1, 3650, backup.keep_days);
}

void read_tls(const Field& object, TlsFiles& tls) {
  refuse_unknown(object, {"certificate", "key", "check_s"});
  tls.certificate = object["certificate"].text(4096);
  tls.key = object["key"].text(4096);
  take(object, "check_s", 1, 3600, tls.check_s);
}

void read_proxy(const Field& object, ProxyTrust& proxy) {
  refuse_unknown(object, {"trusted", "header"});
  proxy.trusted.clear();
  for (const Field& one : object["trusted"].elements(100)) {
    if (!is_network(one.text())) one.refuse("out-of-range", "expected an address or a network, as 10.1.0.0/16");
    proxy.trusted.push_back(one.text());
  }
  if (proxy.trusted.empty()) object["trusted"].refuse("out-of-range", "expected at least one address");
  if (const auto header = object.find("header")) proxy.forwarded = header->word({"x-forwarded", "forwarded"}) == 1;
}

void read_push(const Field& object, Push& push) {
  refuse_unknown(object, {"contact", "local_service", "every_s"});
  push.contact = object["contact"].text(200);
  if (!push.contact.starts_with("mailto:") && !push.contact.starts_with("https://"))
    object["contact"].refuse("out-of-range", "expected mailto: or https:// and whom a push service may write to");
  if (const auto local = object.find("local_service")) {
    push.local_service = local->text(40);
    static const std::regex form(R"(http://127\.0\.0\.1:[0-9]{1,5})");
    if (!std::regex_match(push.local_service, form))
      local->refuse("out-of-range", "expected http://127.0.0.1: and a port, for tests alone");
  }
  take(object, "every_s", 1, 600, push.every_s);
}

bool is_loopback(const std::string& host) {
  boost::system::error_code error;
  const auto address = boost::asio::ip::make_address(host == "localhost" ? "127.0.0.1" : host, error);
  return !error && address.is_loopback();
}

}  // namespace

void read_config(const Field& file, Config& config) {
  refuse_unknown(file, {"host", "port", "public_address", "tls", "proxy", "web", "profiles", "io_threads",
                        "compute_threads", "write_threads", "limits", "backup", "push"});
  if (const auto host = file.find("host")) config.host = host->text();
  if (const auto address = file.find("public_address")) config.public_address = address->text(512);
  if (const auto tls = file.find("tls")) read_tls(*tls, config.tls);
  if (const auto proxy = file.find("proxy")) read_proxy(*proxy, config.proxy);
  if (const auto web = file.find("web")) config.web = web->text(4096);
  if (const auto profiles = file.find("profiles")) config.profiles = profiles->text(4096);
  take(file, "port", 0, 65535, config.port);
  take(file, "io_threads", 1, 64, config.io_threads);
  take(file, "compute_threads", 1, 256, config.compute_threads);
  take(file, "write_threads", 1, 256, config.write_threads);
  if (const auto limits = file.find("limits")) read_limits(*limits, config.limits);
  if (const auto backup = file.find("backup")) read_backup(*backup, config.backup);
  if (const auto push = file.find("push")) read_push(*push, config.push);
}

std::string public_name(const std::string& public_address) {
  if (public_address.empty()) return "";
  static const std::regex form(R"(https?://([A-Za-z0-9](?:[A-Za-z0-9.-]*[A-Za-z0-9])?)(?::[0-9]{1,5})?/?)");
  std::smatch parts;
  if (!std::regex_match(public_address, parts, form)) {
    throw std::invalid_argument("the public address is not understood: " + public_address +
                                "; expected https://cells.example.org, with a port where it is not 443");
  }
  std::string name = parts[1];
  std::transform(name.begin(), name.end(), name.begin(), [](unsigned char c) { return std::tolower(c); });
  return name;
}

void require_protected_reach(const Config& config) {
  boost::system::error_code error;
  boost::asio::ip::make_address(config.host == "localhost" ? "127.0.0.1" : config.host, error);
  if (error) {
    throw std::invalid_argument("cannot listen on " + config.host +
                                ": a name or anything but an address is not taken; 127.0.0.1 is this machine alone");
  }
  const std::string name = public_name(config.public_address);
  const bool is_protected = config.tls.named() || config.proxy.named();
  const bool is_public = !name.empty() && name != "localhost" && !is_loopback(name);
  const std::string remedy =
      R"(In --config, give a certificate ("tls": {"certificate": FILE, "key": FILE}) or name the proxy that brings TLS )"
      R"(("proxy": {"trusted": ["127.0.0.1"]}))";
  if (!is_loopback(config.host) && !is_protected) {
    throw std::invalid_argument("refuses to listen on " + config.host +
                                ": what is said there could be read and changed on its way. " + remedy +
                                ", or stay on this machine with --host 127.0.0.1");
  }
  if (!is_loopback(config.host) && !is_public) {
    throw std::invalid_argument("refuses to listen on " + config.host +
                                " without knowing the name people ask for: give \"public_address\": "
                                "\"https://cells.example.org\" in --config, or stay on 127.0.0.1");
  }
  if (is_public && !is_protected) {
    throw std::invalid_argument("refuses the public address " + config.public_address +
                                ": what is said there could be read and changed on its way. " + remedy);
  }
  if (is_public && !config.public_address.starts_with("https://"))
    throw std::invalid_argument("the public address must begin with https://: " + config.public_address);
}

}  // namespace cellarer
