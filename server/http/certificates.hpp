// SPDX-License-Identifier: MIT
#pragma once
#include <memory>
#include <mutex>
#include <string>

#include <boost/asio/ssl/context.hpp>

#include "model/quantities/time.hpp"
#include "server/config.hpp"
#include "server/warnings.hpp"

namespace cellarer::http {

/// The certificate that new connections are given, taken up anew when its files change. A new pair that cannot be
/// used leaves the one in use where it is, and the log says why.
class Certificates {
 public:
  /// Throws std::runtime_error where the first pair cannot be used. `name` is the public name it should be made for;
  /// empty: any.
  Certificates(const TlsFiles& files, std::string name, Warnings& warnings);

  /// For the handshakes from now on; those under way keep theirs. From any thread.
  std::shared_ptr<boost::asio::ssl::context> context() const;

  /// Looks at the files, and takes them up where they changed; `anyhow`: where they did not, too. Sees to the
  /// warning of the end. From one thread at a time.
  void look(bool anyhow = false);

 private:
  struct Loaded {
    std::shared_ptr<boost::asio::ssl::context> context;
    std::chrono::sys_seconds from, until;
    bool for_name = true;
  };

  Loaded load() const;
  void use(Loaded loaded);
  void warn_of_end();

  TlsFiles files_;
  std::string name_;
  Warnings& warnings_;
  mutable std::mutex mutex_;
  Loaded used_;
  std::string seen_;  ///< the files' identities and times at the last look
  std::string said_;  ///< about the end, in the log
};

}  // namespace cellarer::http
