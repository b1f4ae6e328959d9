// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "server/json/field.hpp"

/// The one documented configuration of the service. Values come from here, then from the file given by
/// `serve --config FILE`, then from the command line; nothing is read from the environment.
namespace cellarer {

/// What one client may ask of the service. A request beyond a limit is answered with the problem in brackets.
struct Limits {
  std::size_t header_bytes = std::size_t{16} * 1024;  ///< request line and header together [header-too-large 431]
  std::size_t target_bytes = std::size_t{2} * 1024;   ///< the address in the request line [target-too-long 414]
  std::size_t body_bytes = std::size_t{64} * 1024;    ///< [body-too-large 413]
  int handshake_s = 10;                               ///< of TLS; then the connection is closed
  int header_s = 10;                                  ///< from the first byte to the header's end [request-timeout 408]
  int body_s = 20;                                    ///< from there to the body's end [request-timeout 408]
  int write_s = 30;                                   ///< for an answer to be taken; then the connection is closed
  int idle_s = 60;                                    ///< between requests of one connection, as the client is told
  std::size_t connections = 1024;                     ///< open at once; the longest idle one makes room [busy 503]
  std::size_t address_connections = 128;              ///< of these, from one address, alike [busy 503]
  std::size_t waiting = 512;                          ///< requests waiting for a worker [busy 503]
  std::size_t event_streams = 512;                    ///< pages that listen at once (events) [busy 503]
  std::size_t address_event_streams = 32;             ///< of these, from one address [busy 503]
  int heartbeat_s = 15;                               ///< between comments on such a stream, when nothing else is said
  int shutdown_s = 10;                                ///< for requests under way to finish when the service is ended
};

/// Encrypted backups while the service runs (server/store/backups.hpp).
struct Backup {
  std::filesystem::path folder;    ///< none: no backups
  std::filesystem::path key_file;  ///< of `cellarer backup --make-key`
  int every_h = 24;
  int keep_days = 30;  ///< after which a backup is removed, and with it what was erased meanwhile
};

/// A certificate with its chain, and its key, as PEM. Changed files are taken up without a restart.
struct TlsFiles {
  std::filesystem::path certificate, key;
  int check_s = 30;  ///< how often the files are looked at; SIGHUP has them looked at now
  bool named() const { return !certificate.empty(); }
};

/// Proxies that stand in front, and how they say for whom they ask.
struct ProxyTrust {
  std::vector<std::string> trusted;  ///< addresses and networks ("10.1.0.0/16")
  bool forwarded = false;            ///< by Forwarded (RFC 7239) instead of X-Forwarded-For and X-Forwarded-Proto
  bool named() const { return !trusted.empty(); }
};

/// Messages to phones by their browsers' push services (RFC 8030). The only connections that the service opens.
struct Push {
  std::string contact;  ///< whom a push service may write to, "mailto:..." or "https://..."; none: nothing is sent
  std::string local_service;  ///< for tests: one more origin that may be sent to, "http://127.0.0.1:4711"
  int every_s = 20;           ///< how often it is looked whether something is due
};

struct Config {
  std::filesystem::path data;      ///< folder of the store; made where it is not there
  std::filesystem::path web;       ///< the built pages; none: the API alone
  std::filesystem::path profiles;  ///< folder with cells/ and stimulators/
  std::string host = "127.0.0.1";  ///< the address to listen on; beyond loopback only with TLS or a named proxy
  std::uint16_t port = 8080;       ///< 0: any free one
  std::string public_address;      ///< what people type, "https://cells.example.org"; none: loopback's names alone
  TlsFiles tls;                    ///< none: plain HTTP
  ProxyTrust proxy;                ///< none: nobody is heard about whom he asks for
  int io_threads = 2;              ///< sockets and short reads
  int compute_threads = 2;         ///< forecasts that are asked for, lists, fits
  int write_threads = 4;  ///< what is recorded and its new forecast; none waits for the disk; writes share a commit
  Limits limits;
  Backup backup;
  Push push;
};

/// Overlays `config` with a file's content: {"host", "port", "public_address", "tls": {"certificate", "key",
/// "check_s"}, "proxy": {"trusted": [...], "header": "x-forwarded | forwarded"}, "web", "profiles", "io_threads",
/// "compute_threads", "write_threads", "limits": {...}, "backup": {...}, "push": {...}}, names as above. Throws
/// `json::Refused`, for an unknown name too.
void read_config(const json::Field& file, Config& config);

/// The name in a public address: "https://cells.example.org:8443" gives "cells.example.org", in lower case; nothing
/// gives nothing. Throws std::invalid_argument where it is not http(s)://name[:port] and nothing more.
std::string public_name(const std::string& public_address);

/// Refuses what must not be: to listen beyond loopback, or to be asked for by a public name, where what is said could
/// be read on its way: without TLS and without a named proxy that brings it. Throws std::invalid_argument that says
/// what would be right.
void require_protected_reach(const Config& config);

}  // namespace cellarer
