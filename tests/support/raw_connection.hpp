// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <string>
#include <string_view>

namespace cellarer::testing {

/// A TCP connection to the service on which a test writes what it likes. Where nothing goes on for half a minute, it is
/// given up.
class RawConnection {
 public:
  /// From this address of loopback: any of 127/8 may be a client's. Throws where it cannot connect.
  explicit RawConnection(int port, const std::string& from = "127.0.0.1");
  ~RawConnection();
  RawConnection(RawConnection&& other) noexcept : socket_(other.socket_), seen_(other.seen_) { other.socket_ = -1; }
  RawConnection(const RawConnection&) = delete;

  /// False where the other end has closed.
  bool send(std::string_view bytes);
  /// What comes until `wanted` has come, the other end closes, or nothing comes for `wait_ms`.
  std::string read_until(std::string_view wanted, int wait_ms = 10'000);
  /// What comes until the other end closes; `is_closed` then tells whether it did.
  std::string read_all(int wait_ms = 10'000) { return read_until("", wait_ms); }
  bool is_closed() const { return seen_; }
  int socket() const { return socket_; }

 private:
  int socket_ = -1;
  bool seen_ = false;  ///< the end
};

/// Sends a request whose body the service then waits for, as its "100 Continue" has shown; false where it does not.
bool begin_request(RawConnection& connection);
/// Whether the request that was begun is answered (by a 405: it asked something of a page that is only read).
bool finish_request(RawConnection& connection);

/// The fields of an answer's header, names in lower case.
std::map<std::string, std::string> fields_of(const std::string& answer);

/// How often `text` holds `piece`.
std::size_t times(const std::string& text, const std::string& piece);

/// Lets this process open so many files, as far as the system allows; whether it does.
bool allow_open_files(std::size_t count);

}  // namespace cellarer::testing
