// SPDX-License-Identifier: MIT
// Whom a proxy's word is believed about. Forwarded's examples are those of RFC 7239, sections 4 to 7; addresses are
// those kept for documentation (RFC 5737, RFC 3849).
#include "server/http/visitor.hpp"

#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::http;
using boost::asio::ip::make_address;

namespace {

Reception reception(bool forwarded = false) {
  Config config;
  config.public_address = "https://cells.example.org";
  config.proxy.trusted = {"198.51.100.1", "10.0.0.0/8", "2001:db8:1::/48"};
  config.proxy.forwarded = forwarded;
  return Reception(config);
}

/// For whom a peer asks with this X-Forwarded-For.
std::string asker(const std::string& peer, const std::string& x_forwarded_for) {
  return reception().visitor({make_address(peer)}, {"", "", x_forwarded_for, ""}).address;
}

}  // namespace

TEST_CASE("a trusted address is one that is named, or of a network that is", "[http]") {
  const auto trusts = [](const char* address) { return reception().trusts(make_address(address)); };
  for (const char* address : {"198.51.100.1", "10.200.3.4", "2001:db8:1:2::3", "::ffff:10.0.0.1"})
    CHECK(trusts(address));
  for (const char* address : {"198.51.100.2", "11.0.0.1", "2001:db8:2::1", "::1", "127.0.0.1"})
    CHECK_FALSE(trusts(address));
}

TEST_CASE("a chain is read from its near end up to the first address that is not trusted", "[http]") {
  CHECK(asker("203.0.113.9", "192.0.2.7") == "203.0.113.9");
  CHECK(asker("198.51.100.1", "") == "198.51.100.1");
  CHECK(asker("198.51.100.1", "192.0.2.7") == "192.0.2.7");
  CHECK(asker("198.51.100.1", "127.0.0.1, 192.0.2.7") == "192.0.2.7");
  CHECK(asker("198.51.100.1", "203.0.113.5, 192.0.2.7, 10.1.2.3") == "192.0.2.7");
  CHECK(asker("198.51.100.1", "192.0.2.7:4711, [2001:db8:1::9]:80") == "192.0.2.7");
  CHECK(asker("198.51.100.1", "2001:db8::7") == "2001:db8::7");
  CHECK(asker("198.51.100.1", "192.0.2.7, nonsense") == "198.51.100.1");
  CHECK(asker("198.51.100.1", "10.0.0.1, 10.0.0.2") == "10.0.0.1");
  CHECK(asker("198.51.100.1", ",,") == "198.51.100.1");
}

TEST_CASE("a protocol is heard from a trusted address alone, the nearest word counts", "[http]") {
  const auto secure = [](const char* peer, bool tls, const char* said) {
    return reception().visitor({make_address(peer), tls}, {"", "", "192.0.2.7", said}).secure;
  };
  CHECK(secure("198.51.100.1", false, "https"));
  CHECK(secure("198.51.100.1", false, "http, HTTPS"));
  CHECK_FALSE(secure("198.51.100.1", false, "https, http"));
  CHECK_FALSE(secure("198.51.100.1", true, "http"));
  CHECK(secure("198.51.100.1", true, ""));
  CHECK_FALSE(secure("203.0.113.9", false, "https"));
  CHECK(secure("203.0.113.9", true, "http"));
}

TEST_CASE("Forwarded is read as RFC 7239 has it", "[http]") {
  const auto said = parse_forwarded(R"(for=192.0.2.43, for="[2001:db8:cafe::17]:4711";Proto=HTTP; by=203.0.113.43)");
  CHECK(said.nodes == std::vector<std::string>{"192.0.2.43", "[2001:db8:cafe::17]:4711"});
  CHECK(said.protocol == "http");
  CHECK(parse_forwarded(R"(for="_gazonk")").nodes == std::vector<std::string>{"_gazonk"});
  CHECK(parse_forwarded("proto=https").nodes == std::vector<std::string>{"unknown"});
  CHECK(parse_forwarded(R"(for="a,b;proto=https)").protocol.empty());
  CHECK(parse_forwarded("").nodes.empty());
  const Way way{"", R"(for="[2001:db8:cafe::17]:4711";proto=https, for=10.0.0.1;proto=https)", "192.0.2.1", "http"};
  const auto visitor = reception(true).visitor({make_address("198.51.100.1")}, way);
  CHECK(visitor.address == "2001:db8:cafe::17");
  CHECK(visitor.secure);
  CHECK(reception(false).visitor({make_address("198.51.100.1")}, way).address == "192.0.2.1");
}

TEST_CASE("a node is an address with or without a port, and nothing else", "[http]") {
  CHECK(node_address("192.0.2.1:80")->to_string() == "192.0.2.1");
  CHECK(node_address("\"[2001:db8::1]:80\"")->to_string() == "2001:db8::1");
  CHECK(node_address("::ffff:192.0.2.1")->to_string() == "192.0.2.1");
  for (const char* node : {"", "unknown", "_hidden", "192.0.2", "192.0.2.1.5", "[::1", "example.org", "192.0.2.1 x"}) {
    INFO(node);
    CHECK_FALSE(node_address(node));
  }
}

TEST_CASE("past the proxy nobody is answered, loopback excepted", "[http]") {
  const auto objected = [](const char* peer, bool tls, const char* host) {
    const Peer from{make_address(peer), tls};
    return reception().objection(from, {peer, tls}, host).has_value();
  };
  CHECK(objected("203.0.113.9", false, "cells.example.org"));
  CHECK_FALSE(objected("203.0.113.9", true, "cells.example.org"));
  CHECK(objected("203.0.113.9", true, "127.0.0.1"));
  CHECK(objected("203.0.113.9", true, "203.0.113.1"));
  CHECK_FALSE(objected("127.0.0.1", false, "localhost:8080"));
  CHECK(objected("127.0.0.1", false, "cells.example.org"));
}
