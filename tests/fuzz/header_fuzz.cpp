// SPDX-License-Identifier: MIT
// Header fields that any stranger writes: the cookie, and what says for whom a proxy asks. The first letter chooses.
#include "server/access/cookie.hpp"
#include "server/access/secrets.hpp"
#include "server/http/visitor.hpp"
#include "tests/fuzz/fuzz.hpp"

using namespace cellarer;

namespace {

void cookie(std::string_view text) {
  const auto token = access::session_token(text);
  if (!token) return;
  const auto bytes = access::from_base64url(*token);
  fuzz::must(bytes && bytes->size() == 32);
  fuzz::must(access::session_token(std::string(access::cookie_name) + "=" + *token) == token);
}

/// RFC 7239; no element brings more than one address.
void forwarded(std::string_view text) {
  const auto field = http::parse_forwarded(text);
  fuzz::must(field.nodes.size() <= text.size() + 1);
  for (const auto& node : field.nodes) {
    const auto address = http::node_address(node);
    fuzz::must(!address || http::node_address(address->to_string()));
  }
}

void node(std::string_view text) {
  const auto address = http::node_address(text);
  if (address) fuzz::must(http::plain_address(http::plain_address(*address)) == http::plain_address(*address));
}

http::Reception reception(bool by_forwarded) {
  Config config;
  config.public_address = "https://cells.example.org";
  config.proxy.trusted = {"127.0.0.1", "10.0.0.0/8"};
  config.proxy.forwarded = by_forwarded;
  return http::Reception(config);
}

/// From a trusted proxy and from anybody, by either kind of field: nobody makes himself somebody else.
void visitor(std::string_view text) {
  static const http::Reception receptions[] = {reception(false), reception(true)};
  const auto cut = text.find('\n');
  const http::Way way{"cells.example.org", std::string(text.substr(0, cut)),
                      cut == std::string_view::npos ? "" : std::string(text.substr(cut + 1)), "https"};
  for (const auto& here : receptions) {
    for (const char* from : {"127.0.0.1", "203.0.113.9"}) {
      const http::Peer peer{boost::asio::ip::make_address(from), false};
      const auto seen = here.visitor(peer, way);
      fuzz::must(!seen.address.empty());
      if (!here.trusts(peer.address)) fuzz::must(seen.address == from && !seen.secure);
      here.objection(peer, seen, std::string(text));
    }
  }
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string_view text = fuzz::as_text(data, size);
  using Read = void (*)(std::string_view);
  const Read readers[] = {cookie, forwarded, node, visitor};
  readers[fuzz::choose(text, std::size(readers))](text);
  return 0;
}
