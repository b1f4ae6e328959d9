// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>

struct sockaddr;

/// Where a message may be sent. An endpoint is what a browser says its push service is, so it may be anything: the
/// service must not be made to call machines of its own network, or to speak in the clear.
namespace cellarer::push {

struct Endpoint {
  std::string origin;  ///< "https://push.example.net", in lower case: the audience of the signature
  bool local = false;  ///< the one that a test's configuration allows
};

/// None where it is not https on its usual port with a name and a path, at most 1000 printable characters.
/// `local_service`
/// ("http://127.0.0.1:4711", of a test's configuration; empty: none) is allowed as it stands.
std::optional<Endpoint> read_endpoint(const std::string& url, const std::string& local_service);

/// Whether an address is one of the open network: no loopback, private, shared, link-local or multicast one (RFC 6890).
bool is_open_network(const sockaddr* address);

}  // namespace cellarer::push
