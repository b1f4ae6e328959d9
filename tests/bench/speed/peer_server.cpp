// SPDX-License-Identifier: MIT
// What the service is held against, each on one thread and a free port, which it prints:
//   peer_server bare HEADERS BODY   a bare Beast server that answers these bytes to whatever is asked
//   peer_server naive FILE COOKIE BODY   one as it would be written first: sessions and forecasts in SQLite, looked up,
//                                   parsed and written anew for each request
#include <fstream>
#include <iostream>
#include <sstream>

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>
#include <boost/asio/io_context.hpp>
#include <nlohmann/json.hpp>

#include "tests/bench/speed/peer_session.hpp"

namespace {

using namespace cellarer::bench;
using boost::asio::ip::tcp;

std::string contents(const std::string& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream) throw std::runtime_error("cannot read " + file);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

/// `headers`: a line each, as the service sent them.
PeerAnswer bare(const std::string& headers, const std::string& body) {
  auto kept = std::make_shared<PeerResponse>(beast_http::status::ok, 11);
  std::istringstream lines(headers);
  for (std::string line; std::getline(lines, line);) {
    const auto colon = line.find(": ");
    if (colon != std::string::npos) kept->insert(line.substr(0, colon), line.substr(colon + 2));
  }
  kept->body() = body;
  kept->prepare_payload();
  return [kept](const PeerRequest&) { return kept; };
}

class Naive {
 public:
  Naive(const std::string& file, const std::string& cookie, const std::string& body)
      : database_(file, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE) {
    database_.exec("PRAGMA journal_mode = WAL");
    database_.exec("CREATE TABLE session (token TEXT PRIMARY KEY, household TEXT)");
    database_.exec("CREATE TABLE forecast (household TEXT PRIMARY KEY, document TEXT)");
    SQLite::Statement session(database_, "INSERT INTO session VALUES (?, 'h-1')");
    session.bind(1, cookie);
    session.exec();
    SQLite::Statement forecast(database_, "INSERT INTO forecast VALUES ('h-1', ?)");
    forecast.bind(1, body);
    forecast.exec();
  }

  std::shared_ptr<const PeerResponse> answer(const PeerRequest& request) {
    auto response = std::make_shared<PeerResponse>(beast_http::status::unauthorized, 11);
    SQLite::Statement session(database_, "SELECT household FROM session WHERE token = ?");
    session.bind(1, std::string(request[beast_http::field::cookie]));
    if (session.executeStep()) {
      SQLite::Statement forecast(database_, "SELECT document FROM forecast WHERE household = ?");
      forecast.bind(1, session.getColumn(0).getString());
      if (forecast.executeStep()) {
        const auto document = nlohmann::json::parse(forecast.getColumn(0).getString());
        response->result(beast_http::status::ok);
        response->set(beast_http::field::content_type, "application/json");
        response->body() = document.dump();
      }
    }
    response->prepare_payload();
    return response;
  }

 private:
  SQLite::Database database_;
};

void serve(const PeerAnswer& answer) {
  boost::asio::io_context io(1);
  tcp::acceptor acceptor(io, {boost::asio::ip::make_address("127.0.0.1"), 0});
  std::cout << acceptor.local_endpoint().port() << std::endl;
  std::function<void()> accept = [&] {
    acceptor.async_accept([&](const boost::system::error_code& error, tcp::socket socket) {
      if (error) return;
      boost::system::error_code ignored;
      socket.set_option(tcp::no_delay(true), ignored);
      std::make_shared<PeerSession>(std::move(socket), answer)->read();
      accept();
    });
  };
  accept();
  io.run();
}

int run(const std::vector<std::string>& arguments) {
  if (arguments.size() == 3 && arguments[0] == "bare") {
    serve(bare(contents(arguments[1]), contents(arguments[2])));
    return 0;
  }
  if (arguments.size() == 4 && arguments[0] == "naive") {
    Naive naive(arguments[1], contents(arguments[2]), contents(arguments[3]));
    serve([&](const PeerRequest& request) { return naive.answer(request); });
    return 0;
  }
  throw std::runtime_error("peer_server bare HEADERS BODY, or peer_server naive FILE COOKIE BODY");
}

}  // namespace

int main(int count, char** arguments) {
  try {
    return run({arguments + 1, arguments + count});
  } catch (const std::exception& error) {
    std::cerr << "peer_server: " << error.what() << "\n";
    return 1;
  }
}
