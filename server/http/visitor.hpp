// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <boost/asio/ip/address.hpp>
#include <boost/asio/ip/network_v4.hpp>
#include <boost/asio/ip/network_v6.hpp>

#include "server/config.hpp"

/// Who asks, and by which name: what the wire can tell, what a proxy says, and whom to believe.
namespace cellarer::http {

/// The other end of a connection.
struct Peer {
  boost::asio::ip::address address;  ///< as `plain_address` gives it
  bool tls = false;
};

struct Visitor {
  std::string address;  ///< of the peer, or of the one for whom a trusted proxy asks
  bool secure = false;  ///< by TLS: here, or, as a trusted proxy says, there
};

/// What a request says of its way here; each field is empty where it was not sent, and joined by commas where it was
/// sent more than once.
struct Way {
  std::string host, forwarded, x_forwarded_for, x_forwarded_proto;
};

class Reception {
 public:
  explicit Reception(const Config& config);

  bool trusts(const boost::asio::ip::address& address) const;

  /// A proxy's word counts only from a trusted address; of a chain, read from the near end, up to the first address
  /// that is not trusted: what stands before it could be anybody's invention.
  Visitor visitor(const Peer& peer, const Way& way) const;

  /// Why this request is not answered: by a name that is not the service's (a page of some other name that was made
  /// to resolve to this machine must not reach it through a browser), by the public name but in the clear, or past
  /// the proxy. None: it is.
  std::optional<std::string> objection(const Peer& peer, const Visitor& visitor, const std::string& host) const;

  /// Whether Host names the public address.
  bool is_public(const std::string& host) const;

 private:
  std::string public_name_;
  bool by_forwarded_;
  std::vector<boost::asio::ip::network_v4> networks_v4_;
  std::vector<boost::asio::ip::network_v6> networks_v6_;
};

/// An IPv4 address that was mapped into IPv6 as what it is; any other as it stands.
boost::asio::ip::address plain_address(const boost::asio::ip::address& address);

/// Whether a Host names this machine's loopback, by address or as localhost.
bool is_local_host(std::string_view host);

/// The addresses of a Forwarded field (RFC 7239), in its order, and the protocol that its last element names.
struct ForwardedField {
  std::vector<std::string> nodes;
  std::string protocol;
};
ForwardedField parse_forwarded(std::string_view field);

/// "192.0.2.1", "192.0.2.1:4711", "2001:db8::1", "[2001:db8::1]:4711"; none for anything else ("unknown", "_hidden").
std::optional<boost::asio::ip::address> node_address(std::string_view node);

}  // namespace cellarer::http
