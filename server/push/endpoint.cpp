// SPDX-License-Identifier: MIT
#include "server/push/endpoint.hpp"

#include <netinet/in.h>

#include <algorithm>
#include <cctype>
#include <cstdint>
#include <cstring>
#include <iterator>
#include <regex>

namespace cellarer::push {

namespace {

constexpr std::size_t longest_address = 1000;

bool is_open_v4(std::uint32_t address) {
  struct Network {
    std::uint32_t begin;
    int bits;
  };
  // RFC 6890, tables 1 to 16: this network, private, shared, loopback, link-local, private, protocol assignments,
  // documentation, 6to4 relays, private, benchmarking, documentation twice; then multicast and reserved.
  static constexpr Network closed[] = {{0x00000000, 8},  {0x0A000000, 8},  {0x64400000, 10}, {0x7F000000, 8},
                                       {0xA9FE0000, 16}, {0xAC100000, 12}, {0xC0000000, 24}, {0xC0000200, 24},
                                       {0xC0586300, 24}, {0xC0A80000, 16}, {0xC6120000, 15}, {0xC6336400, 24},
                                       {0xCB007100, 24}, {0xE0000000, 3}};
  return std::none_of(std::begin(closed), std::end(closed), [&](const Network& network) {
    return (address >> (32 - network.bits)) == (network.begin >> (32 - network.bits));
  });
}

}  // namespace

std::optional<Endpoint> read_endpoint(const std::string& url, const std::string& local_service) {
  if (url.size() > longest_address) return std::nullopt;
  const bool printable = std::all_of(url.begin(), url.end(), [](unsigned char c) { return c > 0x20 && c < 0x7F; });
  if (!printable) return std::nullopt;
  if (!local_service.empty() && url.starts_with(local_service + "/")) return Endpoint{local_service, true};
  static const std::regex form(R"((https://[A-Za-z0-9](?:[A-Za-z0-9.-]*[A-Za-z0-9])?)(?::443)?/[^\s#]*)");
  std::smatch parts;
  if (!std::regex_match(url, parts, form)) return std::nullopt;
  std::string origin = parts[1];
  std::transform(origin.begin(), origin.end(), origin.begin(), [](unsigned char c) { return std::tolower(c); });
  return Endpoint{origin, false};
}

bool is_open_network(const sockaddr* address) {
  if (address->sa_family == AF_INET) {
    sockaddr_in v4{};
    std::memcpy(&v4, address, sizeof v4);
    return is_open_v4(ntohl(v4.sin_addr.s_addr));
  }
  if (address->sa_family != AF_INET6) return false;
  sockaddr_in6 v6{};
  std::memcpy(&v6, address, sizeof v6);
  const auto& bytes = v6.sin6_addr.s6_addr;
  const bool global = (bytes[0] & 0xE0U) == 0x20U;  // 2000::/3, RFC 4291
  const bool six_to_four = bytes[0] == 0x20 && bytes[1] == 0x02;
  const bool teredo_and_like = bytes[0] == 0x20 && bytes[1] == 0x01 && (bytes[2] & 0xFEU) == 0;  // 2001::/23
  return global && !six_to_four && !teredo_and_like;
}

}  // namespace cellarer::push
