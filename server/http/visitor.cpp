// SPDX-License-Identifier: MIT
#include "server/http/visitor.hpp"

#include <algorithm>
#include <cctype>

#include "server/http/text.hpp"

namespace cellarer::http {

namespace ip = boost::asio::ip;

namespace {

/// "name:port" without the port.
std::string_view bare_name_of(std::string_view host) {
  if (host.starts_with("[")) return host.substr(0, host.find(']') + 1);
  return host.substr(0, host.find(':'));
}

std::string last_of(std::string_view list) {
  const auto comma = list.rfind(',');
  return lower_case(trimmed(comma == std::string_view::npos ? list : list.substr(comma + 1)));
}

std::string_view unquoted(std::string_view text) {
  if (text.size() >= 2 && text.front() == '"' && text.back() == '"') return text.substr(1, text.size() - 2);
  return text;
}

}  // namespace

ip::address plain_address(const ip::address& address) {
  if (address.is_v6() && address.to_v6().is_v4_mapped()) return ip::make_address_v4(ip::v4_mapped, address.to_v6());
  return address;
}

bool is_local_host(std::string_view host) {
  auto name = bare_name_of(host);
  if (lower_case(name) == "localhost") return true;
  if (name.starts_with("[") && name.ends_with("]")) name = name.substr(1, name.size() - 2);
  boost::system::error_code error;
  const auto address = ip::make_address(std::string(name), error);
  return !error && address.is_loopback();
}

std::optional<ip::address> node_address(std::string_view node) {
  node = unquoted(trimmed(node));
  if (node.starts_with("[")) {
    const auto end = node.find(']');
    if (end == std::string_view::npos) return std::nullopt;
    node = node.substr(1, end - 1);
  } else if (std::count(node.begin(), node.end(), ':') == 1) {
    node = node.substr(0, node.find(':'));
  }
  boost::system::error_code error;
  const auto address = ip::make_address(std::string(node), error);
  if (error) return std::nullopt;
  return plain_address(address);
}

ForwardedField parse_forwarded(std::string_view field) {
  ForwardedField said;
  for (const auto element : split_outside_quotes(field, ',')) {
    said.protocol.clear();
    std::string node = "unknown";
    for (const auto pair : split_outside_quotes(element, ';')) {
      const auto equals = pair.find('=');
      if (equals == std::string_view::npos) continue;
      const auto name = lower_case(trimmed(pair.substr(0, equals)));
      const auto value = unquoted(trimmed(pair.substr(equals + 1)));
      if (name == "for") node = std::string(value);
      if (name == "proto") said.protocol = lower_case(value);
    }
    said.nodes.push_back(node);
  }
  return said;
}

Reception::Reception(const Config& config)
    : public_name_(public_name(config.public_address)), by_forwarded_(config.proxy.forwarded) {
  for (const auto& text : config.proxy.trusted) {
    const bool is_network = text.find('/') != std::string::npos;
    if (text.find(':') == std::string::npos)
      networks_v4_.push_back(is_network ? ip::make_network_v4(text) : ip::network_v4(ip::make_address_v4(text), 32));
    else
      networks_v6_.push_back(is_network ? ip::make_network_v6(text) : ip::network_v6(ip::make_address_v6(text), 128));
  }
}

bool Reception::trusts(const ip::address& any) const {
  const auto address = plain_address(any);
  const auto holds = [&](const auto& networks, const auto& one) {
    using Network = typename std::decay_t<decltype(networks)>::value_type;
    return std::any_of(networks.begin(), networks.end(), [&](const Network& network) {
      return Network(one, network.prefix_length()).canonical() == network.canonical();
    });
  };
  return address.is_v4() ? holds(networks_v4_, address.to_v4()) : holds(networks_v6_, address.to_v6());
}

Visitor Reception::visitor(const Peer& peer, const Way& way) const {
  if (!trusts(peer.address)) return {peer.address.to_string(), peer.tls};
  ForwardedField said;
  if (by_forwarded_) {
    said = parse_forwarded(way.forwarded);
  } else {
    for (const auto node : split_outside_quotes(way.x_forwarded_for, ',')) said.nodes.emplace_back(node);
    said.protocol = last_of(way.x_forwarded_proto);
  }
  auto address = peer.address;
  while (trusts(address) && !said.nodes.empty()) {
    const auto before = node_address(said.nodes.back());
    if (!before) break;
    address = *before;
    said.nodes.pop_back();
  }
  return {address.to_string(), said.protocol.empty() ? peer.tls : said.protocol == "https"};
}

bool Reception::is_public(const std::string& host) const {
  return !public_name_.empty() && lower_case(bare_name_of(host)) == public_name_;
}

std::optional<std::string> Reception::objection(const Peer& peer, const Visitor& visitor,
                                                const std::string& host) const {
  const bool near = peer.address.is_loopback();
  if (!near && !peer.tls && !trusts(peer.address)) return "This service answers through its proxy alone.";
  if (near && is_local_host(host)) return std::nullopt;
  if (!is_public(host) || is_local_host(public_name_)) {
    return "The Host header names another machine: use " +
           (public_name_.empty() ? std::string("127.0.0.1 or localhost") : public_name_) + ".";
  }
  if (!visitor.secure)
    return "Ask by https. (A proxy in front has to say so, in X-Forwarded-Proto or Forwarded as configured.)";
  return std::nullopt;
}

}  // namespace cellarer::http
