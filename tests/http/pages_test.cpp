// SPDX-License-Identifier: MIT
// The pages as a browser fetches them.
#include <fstream>

#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;

namespace {

/// A built page of two files, one compressed.
struct Pages {
  Pages() {
    const auto write = [&](const char* name, const char* text) { std::ofstream(folder.path() / name) << text; };
    write("index.html", "<!doctype html><script type=\"module\" src=\"/main-3KQ7ZB2A.js\"></script>");
    write("main-3KQ7ZB2A.js", "start()");
    write("main-3KQ7ZB2A.js.br", "brotli");
  }
  TemporaryFolder folder;
};

}  // namespace

TEST_CASE("the page of a household is index.html, asked for again each time", "[http]") {
  const Pages pages;
  Service service(nullptr, "", {"--web", pages.folder.path().string()});
  HttpClient client(service.port());
  for (const char* path : {"/", "/in", "/h/h-1", "/h/any/thing"}) {
    const auto page = client.get(path);
    INFO(path);
    CHECK(page.status == 200);
    CHECK(page.headers.at("content-type") == "text/html; charset=utf-8");
    CHECK(page.headers.at("cache-control") == "no-cache");
  }
  // A browser asks for these beside the scripts (RFC 8288; HTML, "preload"), and never for what a name smuggles in.
  CHECK(client.get("/h/h-1").headers.at("link") ==
        "</api/v1/households/h-1/forecast>; rel=preload; as=fetch; crossorigin, </api/v1/households/h-1>; rel=preload; "
        "as=fetch; crossorigin");
  for (const char* path : {"/", "/in", "/h/any/thing", "/h/a%3E%3B%20b", "/h/a%0Ab"})
    CHECK(client.get(path).headers.count("link") == 0);
  const auto etag = client.get("/").headers.at("etag");
  CHECK(client.get("/", {"If-None-Match: " + etag}).status == 304);
}

TEST_CASE("a hashed script is kept for ever and comes compressed to whoever takes that", "[http]") {
  const Pages pages;
  Service service(nullptr, "", {"--web", pages.folder.path().string()});
  HttpClient client(service.port());
  const auto compressed = client.get("/main-3KQ7ZB2A.js", {"Accept-Encoding: gzip, br"});
  CHECK(compressed.body == "brotli");
  CHECK(compressed.headers.at("content-encoding") == "br");
  CHECK(compressed.headers.at("vary") == "Accept-Encoding");
  CHECK(compressed.headers.at("cache-control").find("immutable") != std::string::npos);
  const auto plain = client.get("/main-3KQ7ZB2A.js");
  CHECK(plain.body == "start()");
  CHECK(plain.headers.count("content-encoding") == 0);
  CHECK(plain.headers.at("content-type") == "text/javascript; charset=utf-8");
}

TEST_CASE("pages are only read, and nothing beside them is reached", "[http]") {
  const Pages pages;
  Service service(nullptr, "", {"--web", pages.folder.path().string()});
  HttpClient client(service.port());
  const auto posted = client.send("POST", "/", "x");
  CHECK(posted.status == 405);
  CHECK(posted.headers.at("allow") == "GET, HEAD, OPTIONS");
  CHECK(client.get("/../../etc/passwd").status == 404);
  CHECK(client.get("/%2e%2e/%2e%2e/etc/passwd").status == 404);
  CHECK(client.get("/main-3KQ7ZB2A.js.br").status == 404);
}
