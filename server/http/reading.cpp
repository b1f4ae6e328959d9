// SPDX-License-Identifier: MIT
// Session's reading of one request: the header whole and checked before the parser sees it, then the body.
#include <boost/beast/http/error.hpp>

#include "server/http/header_check.hpp"
#include "server/http/session.hpp"

namespace cellarer::http {

namespace asio = boost::asio;
using boost::system::error_code;

/// A place among those who may send a table of a whole agency, larger than any other body: few at a time, so that
/// strangers who send such bodies to that address fill no memory.
class TablePlace {
 public:
  TablePlace() = default;
  ~TablePlace() {
    if (taken_) --under_way;
  }
  TablePlace(const TablePlace&) = delete;
  TablePlace& operator=(const TablePlace&) = delete;

  bool take() {
    if (++under_way > most)
      --under_way;
    else
      taken_ = true;
    return taken_;
  }

 private:
  static constexpr int most = 8;
  static inline std::atomic<int> under_way{0};
  bool taken_ = false;
};

api::Response refusal(ProblemCode code, const std::string& detail) {
  return api::problem_response(Problem(code, detail));
}

namespace {

constexpr std::size_t table_bytes = std::size_t{1} << 20;
constexpr std::string_view table_requests = "POST /api/v1/imports";

constexpr std::size_t read_at_once = 8192;
constexpr std::string_view header_end = "\r\n\r\n";

api::Response no_request(const std::string& why) {
  return refusal(ProblemCode::bad_request, "This is not a request of HTTP/1.1: " + why + ".");
}

api::Response nobody_there() {
  api::Response nobody;
  nobody.status = 0;
  return nobody;
}

std::string_view read_so_far(const boost::beast::flat_buffer& buffer) {
  return {static_cast<const char*>(buffer.data().data()), buffer.size()};
}

/// Without a first line that fits, it is the address that is too long.
api::Response too_large(std::string_view header) {
  if (header.find("\r\n") == std::string_view::npos)
    return refusal(ProblemCode::target_too_long, "The address is too long.");
  return refusal(ProblemCode::header_too_large, "The header fields are too large together.");
}

/// What went wrong while the parser was fed.
api::Response read_refusal(const error_code& error, bool late, std::uint64_t body_limit) {
  if (late) return refusal(ProblemCode::request_timeout, "The request did not arrive in time.");
  if (error == beast_http::error::body_limit) {
    return refusal(ProblemCode::body_too_large, "The body may have " + std::to_string(body_limit) + " bytes.");
  }
  const bool is_http = error.category() == beast_http::make_error_code(beast_http::error::bad_method).category();
  if (is_http && error != beast_http::error::end_of_stream && error != beast_http::error::partial_message)
    return no_request(error.message());
  return nobody_there();
}

std::ptrdiff_t field_count(const Incoming& incoming) { return std::distance(incoming.begin(), incoming.end()); }

}  // namespace

asio::awaitable<Session::Refused> Session::read_request(Parser& parser) {
  start_deadline(std::chrono::seconds(shared_.limits.header_s));
  TablePlace place;
  auto refused = co_await read_header(parser, place);
  deadline_.end();
  if (refused || parser.is_done()) co_return refused;
  co_await continue_if_expected(parser.get());
  start_deadline(std::chrono::seconds(shared_.limits.body_s));
  refused = co_await read_body(parser);
  deadline_.end();
  co_return refused;
}

/// More bytes of the request, behind those in the buffer.
asio::awaitable<error_code> Session::read_more() {
  const auto [error, count] = co_await stream_.read_some(buffer_.prepare(read_at_once));
  buffer_.commit(count);
  co_return error;
}

asio::awaitable<Session::Refused> Session::read_header(Parser& parser, TablePlace& place) {
  const Limits& limits = shared_.limits;
  std::size_t length = 0;
  for (std::size_t searched = 0; length == 0;) {
    while (read_so_far(buffer_).starts_with("\r\n")) buffer_.consume(2);  // some send one after a body (RFC 9112, 2.2)
    const auto header = read_so_far(buffer_);
    const auto from = searched < header_end.size() ? 0 : searched - header_end.size();  // the end may come in two
    const auto end = header.find(header_end, from);
    if (end != std::string_view::npos) {
      length = end + header_end.size();
      break;
    }
    if (header.size() >= limits.header_bytes) co_return too_large(header);
    if (has_stray_byte(header, from)) co_return no_request("a control character or a bare line end stands in it");
    searched = header.size();
    if (const auto error = co_await read_more()) co_return read_refusal(error, late_, limits.body_bytes);
  }
  const auto header = read_so_far(buffer_).substr(0, length);
  if (length > limits.header_bytes) co_return too_large(header);
  if (const auto fault = header_fault(header)) co_return no_request(*fault);

  parser.header_limit(static_cast<std::uint32_t>(2 * limits.header_bytes));  // for what may follow the chunks
  const bool table = header.starts_with(table_requests) && limits.body_bytes < table_bytes && place.take();
  parser.body_limit(table ? table_bytes : limits.body_bytes);
  error_code error;
  buffer_.consume(parser.put(asio::buffer(header.data(), header.size()), error));
  if (error) co_return read_refusal(error, false, table ? table_bytes : limits.body_bytes);
  if (parser.get().target().size() > limits.target_bytes) {
    co_return refusal(ProblemCode::target_too_long,
                      "The address may have " + std::to_string(limits.target_bytes) + " bytes.");
  }
  co_return std::nullopt;
}

/// Neither extensions of chunks nor fields after the last one: what one reader hears and another passes over.
asio::awaitable<Session::Refused> Session::read_body(Parser& parser) {
  bool extended = false;
  auto no_extension = [&](std::uint64_t, boost::beast::string_view extension, error_code& error) {
    if (extension.empty()) return;
    extended = true;
    error = beast_http::error::bad_chunk_extension;
  };
  parser.on_chunk_header(no_extension);
  parser.eager(true);
  const auto fields = field_count(parser.get());
  error_code error;
  for (;;) {
    if (buffer_.size() > 0) buffer_.consume(parser.put(buffer_.cdata(), error));
    if (parser.is_done() || (error && error != beast_http::error::need_more)) break;
    if (buffer_.size() > shared_.limits.header_bytes) co_return no_request("a line among its chunks has no end");
    error = co_await read_more();
    if (error) break;
  }
  if (extended) co_return no_request("its chunks have extensions");
  if (error) co_return read_refusal(error, late_, shared_.limits.body_bytes);
  if (field_count(parser.get()) != fields) co_return no_request("fields follow its last chunk");
  co_return std::nullopt;
}

}  // namespace cellarer::http
