// SPDX-License-Identifier: MIT
// What any stranger writes before the body: the header as a whole, and fields of it, the cookie, what says for whom a
// proxy asks, Accept-Encoding; and the address to which a phone lets itself be pushed. The first letter chooses.
#include <map>

#include "server/access/cookie.hpp"
#include "server/access/secrets.hpp"
#include "server/http/header_check.hpp"
#include "server/http/static_files.hpp"
#include "server/http/text.hpp"
#include "server/http/visitor.hpp"
#include "server/push/endpoint.hpp"
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

/// What is let through has one reading (header_check.hpp): here read once more, in the plainest way.
void whole_header(std::string_view text) {
  const auto fault = http::header_fault(text);
  if (fault) return fuzz::must(!fault->empty());
  fuzz::must(!http::has_stray_byte(text, 0));
  std::map<std::string, int> seen;
  for (std::size_t at = text.find("\r\n"); at != std::string_view::npos;) {
    const auto begin = at + 2;
    at = text.find("\r\n", begin);
    const auto line = text.substr(begin, at - begin);
    if (line.empty()) break;
    fuzz::must(line.front() != ' ' && line.front() != '\t' && line.find(':') != std::string_view::npos);
    ++seen[http::lower_case(line.substr(0, line.find(':')))];
  }
  fuzz::must(seen["host"] <= 1 && seen["content-length"] + seen["transfer-encoding"] <= 1);
}

void accept_encoding(std::string_view text) {
  const std::string field(text);
  const bool packs = http::accepts(field, "gzip");
  fuzz::must(!packs || field.find("gzip") != std::string::npos);
  fuzz::must(http::accepts("br, " + field, "gzip") == packs);
}

/// Nobody makes the service speak in the clear, to a port or a name that is not the one it reads.
void endpoint(std::string_view text) {
  const auto read = push::read_endpoint(std::string(text), "");
  if (!read) return;
  fuzz::must(!read->local && read->origin.starts_with("https://"));
  fuzz::must(read->origin.find_first_of("@/:?#\\", std::string_view("https://").size()) == std::string::npos);
  const auto again = push::read_endpoint(read->origin + "/", "");
  fuzz::must(again && again->origin == read->origin);
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string_view text = fuzz::as_text(data, size);
  using Read = void (*)(std::string_view);
  const Read readers[] = {cookie, forwarded, node, visitor, whole_header, accept_encoding, endpoint};
  readers[fuzz::choose(text, std::size(readers))](text);
  return 0;
}
