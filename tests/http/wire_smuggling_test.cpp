// SPDX-License-Identifier: MIT
// Requests with two readings (RFC 9112, sections 2.2, 5.1, 5.2, 6.1, 6.3, 7.1 and 11.2) are refused once, the
// connection ends, and what was hidden behind them is never a request.
#include "tests/support/catch.hpp"
#include "tests/support/raw_connection.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;

namespace {

const std::string host = "Host: 127.0.0.1\r\n";
const std::string hidden = "GET /api/v1/openapi.json HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n";
const std::string post = "POST /api/v1/households HTTP/1.1\r\nHost: 127.0.0.1\r\n";

struct Trick {
  const char* name;
  std::string bytes;
};

const std::vector<Trick>& tricks() {
  static const std::vector<Trick> all{
      {"length and chunks", post + "Content-Length: 6\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n" + hidden},
      {"chunks and length", post + "Transfer-Encoding: chunked\r\nContent-Length: 6\r\n\r\n0\r\n\r\n" + hidden},
      {"two lengths", post + "Content-Length: 0\r\nContent-Length: 44\r\n\r\n" + hidden},
      {"one length twice", post + "Content-Length: 0\r\nContent-Length: 0\r\n\r\n" + hidden},
      {"a list of lengths", post + "Content-Length: 0, 0\r\n\r\n" + hidden},
      {"a signed length", post + "Content-Length: +0\r\n\r\n" + hidden},
      {"a negative length", post + "Content-Length: -1\r\n\r\n" + hidden},
      {"a hexadecimal length", post + "Content-Length: 0x0\r\n\r\n" + hidden},
      {"an endless length", post + "Content-Length: 99999999999999999999999\r\n\r\n" + hidden},
      {"an empty length", post + "Content-Length:\r\n\r\n" + hidden},
      {"chunks by another name", post + "Transfer-Encoding: xchunked\r\n\r\n0\r\n\r\n" + hidden},
      {"chunks that are not last", post + "Transfer-Encoding: chunked, identity\r\n\r\n0\r\n\r\n" + hidden},
      {"chunks in gzip", post + "Transfer-Encoding: gzip, chunked\r\n\r\n0\r\n\r\n" + hidden},
      {"chunks twice", post + "Transfer-Encoding: chunked\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n" + hidden},
      {"chunks in HTTP/1.0", "POST / HTTP/1.0\r\n" + host + "Transfer-Encoding: chunked\r\n\r\n0\r\n\r\n" + hidden},
      {"chunks on a folded line", post + "Transfer-Encoding:\r\n chunked\r\n\r\n0\r\n\r\n" + hidden},
      {"a folded line", "GET / HTTP/1.1\r\nX-One: a\r\n b\r\n" + host + "\r\n"},
      {"a line folded by a tab", "GET / HTTP/1.1\r\nX-One: a\r\n\tb\r\n" + host + "\r\n"},
      {"a folded first field", "GET / HTTP/1.1\r\n X-One: a\r\n" + host + "\r\n"},
      {"a space before the colon", post + "Content-Length : 44\r\n\r\n" + hidden},
      {"a tab before the colon", post + "Transfer-Encoding\t: chunked\r\n\r\n0\r\n\r\n" + hidden},
      {"a name that is no token", "GET / HTTP/1.1\r\nX(One): a\r\n" + host + "\r\n"},
      {"a name with a byte over 127", "GET / HTTP/1.1\r\nX-\xc3\xa9: a\r\n" + host + "\r\n"},
      {"no name", "GET / HTTP/1.1\r\n: a\r\n" + host + "\r\n"},
      {"no colon", "GET / HTTP/1.1\r\nfield\r\n" + host + "\r\n"},
      {"bare line feeds", "GET / HTTP/1.1\nHost: 127.0.0.1\n\n"},
      {"one bare line feed", "GET / HTTP/1.1\r\nX-One: a\nX-Two: b\r\n" + host + "\r\n"},
      {"one bare carriage return", "GET / HTTP/1.1\r\nX-One: a\rX-Two: b\r\n" + host + "\r\n"},
      {"a zero byte", std::string("GET / HTTP/1.1\r\nX-One: a\0b\r\n", 27) + host + "\r\n"},
      {"two hosts", "GET / HTTP/1.1\r\n" + host + host + "\r\n"},
      {"two spaces in the first line", "GET  / HTTP/1.1\r\n" + host + "\r\n"},
      {"a tab in the first line", "GET\t/ HTTP/1.1\r\n" + host + "\r\n"},
      {"another version", "GET / HTTP/1.2\r\n" + host + "\r\n"},
      {"no version", "GET /\r\n" + host + "\r\n"},
      {"the preface of HTTP/2", "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n"},
      {"a chunk with an extension", post + "Transfer-Encoding: chunked\r\n\r\n0;a=b\r\n\r\n" + hidden},
      {"an extension with a line feed", post + "Transfer-Encoding: chunked\r\n\r\n2;\nxx\r\n10\r\n\r\n" + hidden},
      {"a chunk with a bare line feed", post + "Transfer-Encoding: chunked\r\n\r\n0\n\n" + hidden},
      {"a chunk that is longer than it says", post + "Transfer-Encoding: chunked\r\n\r\n1\r\nab\r\n0\r\n\r\n" + hidden},
      {"a chunk of a length that is none", post + "Transfer-Encoding: chunked\r\n\r\n0x0\r\n\r\n" + hidden},
      {"a chunk of endless length", post + "Transfer-Encoding: chunked\r\n\r\nfffffffffffffffff\r\n" + hidden},
      {"a field after the chunks", post + "Transfer-Encoding: chunked\r\n\r\n0\r\nX-Who: me\r\n\r\n" + hidden},
  };
  return all;
}

}  // namespace

TEST_CASE("a request with two readings is refused, and nothing behind it is read", "[http]") {
  const Service service;
  for (const auto& trick : tricks()) {
    INFO(trick.name);
    RawConnection connection(service.port());
    REQUIRE(connection.send(trick.bytes));
    const auto answer = connection.read_all();
    CHECK(answer.find("HTTP/1.1 400 ") == 0);
    CHECK(answer.find("Connection: close") != std::string::npos);
    CHECK(times(answer, "HTTP/1.1 ") == 1);
    CHECK(connection.is_closed());
  }
}

TEST_CASE("what is asked of another server is refused, and the next request is read", "[http]") {
  const Service service;
  for (const char* line : {"GET http://other.test/ HTTP/1.1\r\n", "CONNECT other.test:443 HTTP/1.1\r\n"}) {
    INFO(line);
    RawConnection connection(service.port());
    REQUIRE(connection.send(line + host + "\r\n"));
    CHECK(connection.read_until("}").find("HTTP/1.1 400 ") == 0);
    REQUIRE(connection.send("GET /api/v1/health HTTP/1.1\r\n" + host + "Connection: close\r\n\r\n"));
    CHECK(connection.read_all().find("HTTP/1.1 200 ") == 0);
  }
}

TEST_CASE("a chunk that says it is huge is too large at once", "[http]") {
  const Service service;
  for (const char* length : {"7fffffffffffffff", "fffffffffffffff0", "10001"}) {
    INFO(length);
    RawConnection connection(service.port());
    REQUIRE(connection.send(post + "Transfer-Encoding: chunked\r\n\r\n" + length + "\r\n"));
    const auto answer = connection.read_all();
    CHECK(answer.find("HTTP/1.1 413 ") == 0);
    CHECK(connection.is_closed());
  }
}

TEST_CASE("what RFC 9112 allows is still a request", "[http]") {
  const Service service;
  const std::string close = "Connection: close\r\n\r\n";
  const std::vector<Trick> allowed{
      {"an empty line before it", "\r\nGET /api/v1/health HTTP/1.1\r\n" + host + close},
      {"names in any case", "GET /api/v1/health HTTP/1.1\r\nhOsT: 127.0.0.1\r\ncOnTeNt-LeNgTh: 0\r\n" + close},
      {"no spaces, and spaces around values",
       "GET /api/v1/health HTTP/1.1\r\nHost:127.0.0.1\r\nX: \t a \t\r\n" + close},
      {"bytes over 127 in a value", "GET /api/v1/health HTTP/1.1\r\nX: \xc3\xa9\r\n" + host + close},
      {"chunks",
       "GET /api/v1/health HTTP/1.1\r\n" + host + "Transfer-Encoding: Chunked\r\n" + close + "2\r\n{}\r\n00\r\n\r\n"},
      {"HTTP/1.0", "GET /api/v1/health HTTP/1.0\r\n" + host + "\r\n"},
  };
  for (const auto& request : allowed) {
    INFO(request.name);
    RawConnection connection(service.port());
    REQUIRE(connection.send(request.bytes));
    CHECK(connection.read_all().find(" 200 OK\r\n") != std::string::npos);
  }
}
