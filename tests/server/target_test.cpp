// SPDX-License-Identifier: MIT
// Addresses (RFC 3986) and the pages' files (encodings: RFC 9110, section 12.5.3).
#include "server/http/target.hpp"

#include <fstream>

#include "server/http/answering.hpp"
#include "server/http/static_files.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace cellarer;
using cellarer::http::accepts;
using cellarer::http::parse_target;
using Path = std::vector<std::string>;

TEST_CASE("an address is cut at its slashes before it is decoded", "[http]") {
  CHECK(parse_target("/")->path == Path{""});
  CHECK(parse_target("/api/v1/households/h-1")->path == Path{"api", "v1", "households", "h-1"});
  CHECK(parse_target("/h/a%2Fb")->path == Path{"h", "a/b"});
  CHECK(parse_target("/a//b/")->path == Path{"a", "", "b", ""});
  const auto target = parse_target("/x?side=left&cursor=a%20b+c&flag");
  CHECK(target->query.at("side") == "left");
  CHECK(target->query.at("cursor") == "a b c");
  CHECK(target->query.at("flag").empty());
}

TEST_CASE("an address that cannot be decoded is refused", "[http]") {
  for (const char* text : {"", "x", "*", "http://example.org/", "/%", "/%2", "/%zz", "/%00", "/a%0ab", "/x?a=%1"}) {
    INFO(text);
    CHECK_FALSE(parse_target(text));
  }
}

TEST_CASE("an address is UTF-8, as JSON is that speaks of it (RFC 3629)", "[http]") {
  CHECK(parse_target("/h/bl%C3%A5")->path == Path{"h", "bl\xc3\xa5"});
  // a lone byte, one that no character begins with, a slash in two bytes, half a surrogate pair, beyond U+10FFFF, cut
  // off
  for (const char* text : {"/%FF", "/h/%E5/x", "/%C0%AF", "/%ED%A0%80", "/%F4%90%80%80", "/%C3", "/x?lot=%FF",
                           "/x?%FF=a", "/\xff", "/%C3/%A5"}) {
    INFO(text);
    CHECK_FALSE(parse_target(text));
  }
}

TEST_CASE("what is not UTF-8 is written out all the same", "[http]") {
  CHECK(cellarer::api::bytes_of({{"who",
                                  "K\xfc"
                                  "che"}}) ==
        "{\"who\":\"K\xef\xbf\xbd"
        "che\"}");
}

TEST_CASE("an encoding is taken where the list names it with a weight above nought", "[http]") {
  CHECK(accepts("gzip, deflate, br", "br"));
  CHECK(accepts("br;q=0.5", "br"));
  CHECK_FALSE(accepts("br;q=0", "br"));
  CHECK_FALSE(accepts("br;q=0.000, gzip", "br"));
  CHECK_FALSE(accepts("", "gzip"));
  CHECK_FALSE(accepts("brotli", "br"));
}

TEST_CASE("the host of a request is this machine or nobody", "[http]") {
  for (const char* host : {"127.0.0.1:8080", "localhost", "[::1]:8080", "127.0.0.1"}) CHECK(http::is_local_host(host));
  for (const char* host :
       {"example.org", "example.org:127", "", "localhost.example.org", "10.0.0.1", "127.0.0.1.example.org"}) {
    INFO(host);
    CHECK_FALSE(http::is_local_host(host));
  }
}

TEST_CASE("names with a content hash may be kept for ever, others not", "[http]") {
  CHECK(http::has_content_hash("main-3KQ7ZB2A.js"));
  CHECK(http::has_content_hash("style-ABCDEFGH.css"));
  CHECK_FALSE(http::has_content_hash("index.html"));
  CHECK_FALSE(http::has_content_hash("range-selector.js"));
  CHECK_FALSE(http::has_content_hash("main-3KQ7.js"));
}

TEST_CASE("files come in the best encoding asked for, and nothing outside the folder is reached", "[http]") {
  const cellarer::testing::TemporaryFolder folder;
  const auto write = [&](const char* name, const char* text) { std::ofstream(folder.path() / name) << text; };
  std::filesystem::create_directory(folder.path() / "dist");
  write("secret.txt", "secret");
  write("dist/index.html", "page");
  write("dist/index.html.br", "brotli page");
  write("dist/main-3KQ7ZB2A.js", "script");
  write("dist/main-3KQ7ZB2A.js.gz", "gzip script");
  const http::StaticFiles files(folder.path() / "dist");
  CHECK(files.size() == 2);
  const auto cache = [](const api::Response& response) {
    for (const auto& [name, value] : response.headers) {
      if (name == "Cache-Control") return value;
    }
    return std::string();
  };
  CHECK(*files.get({""}, "", {}).body == "page");
  CHECK(*files.get({"h", "h-1"}, "gzip, br", {}).body == "brotli page");
  CHECK(cache(files.get({""}, "", {})) == "no-cache");
  CHECK(*files.get({"main-3KQ7ZB2A.js"}, "gzip", {}).body == "gzip script");
  CHECK(*files.get({"main-3KQ7ZB2A.js"}, "br", {}).body == "script");
  CHECK(cache(files.get({"main-3KQ7ZB2A.js"}, "", {})) == "public, max-age=31536000, immutable");
  CHECK(files.get({"..", "secret.txt"}, "", {}).status == 404);
  CHECK(files.get({"../secret.txt"}, "", {}).status == 404);
  CHECK(files.get({"index.html.br"}, "", {}).status == 404);
}
