// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <filesystem>

#include "server/json/field.hpp"

/// The one documented configuration of the service. Values come from here, then from the file given by
/// `serve --config FILE`, then from the command line; nothing is read from the environment.
namespace cellarer {

/// What one client may ask of the service. A request beyond a limit is answered with the problem in brackets.
struct Limits {
  std::size_t header_bytes = std::size_t{16} * 1024;  ///< request line and header together [header-too-large 431]
  std::size_t target_bytes = std::size_t{2} * 1024;   ///< the address in the request line [target-too-long 414]
  std::size_t body_bytes = std::size_t{64} * 1024;    ///< [body-too-large 413]
  int header_s = 10;                                  ///< from the first byte to the header's end [request-timeout 408]
  int body_s = 20;                                    ///< from there to the body's end [request-timeout 408]
  int write_s = 30;                                   ///< for an answer to be taken; then the connection is closed
  int idle_s = 60;                                    ///< between requests of one connection; then it is closed
  std::size_t connections = 256;                      ///< open at once [busy 503]
  std::size_t waiting = 512;                          ///< requests waiting for a worker [busy 503]
  int shutdown_s = 10;                                ///< for requests under way to finish when the service is ended
};

struct Config {
  std::filesystem::path data;      ///< folder of the store; made where it is not there
  std::filesystem::path web;       ///< the built pages; none: the API alone
  std::filesystem::path profiles;  ///< folder with cells/ and stimulators/
  std::string host = "127.0.0.1";  ///< loopback only
  std::uint16_t port = 8080;       ///< 0: any free one
  int io_threads = 2;              ///< sockets and short reads
  int compute_threads = 2;         ///< fits and forecasts
  int write_threads = 16;          ///< each waits for the disk with one write; the writes of all share a commit
  Limits limits;
};

/// Overlays `config` with a file's content: {"host", "port", "web", "profiles", "io_threads", "compute_threads",
/// "write_threads", "limits": {...}}, names as above. Throws `json::Refused`, for an unknown name too.
void read_config(const json::Field& file, Config& config);

/// Refuses what must not be: an address that is not loopback, because there is no sign-in yet. Throws
/// std::invalid_argument that says what would be right.
void require_loopback(const std::string& host);

}  // namespace cellarer
