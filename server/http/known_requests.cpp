// SPDX-License-Identifier: MIT
#include "server/http/known_requests.hpp"

#include <algorithm>

#include "server/access/secrets.hpp"

namespace cellarer::http {

namespace {

constexpr std::size_t key_bytes = 32;

/// Both kinds of address have one length here: nothing of them runs into the header.
std::string sender(const Peer& peer) {
  std::string from(18, '\0');
  from[0] = peer.tls ? 1 : 0;
  from[1] = peer.address.is_v4() ? 4 : 6;
  const auto write = [&from](const auto& bytes) { std::copy(bytes.begin(), bytes.end(), from.begin() + 2); };
  if (peer.address.is_v4())
    write(peer.address.to_v4().to_bytes());
  else
    write(peer.address.to_v6().to_bytes());
  return from;
}

}  // namespace

KnownRequests::KnownRequests() : key_(access::random_bytes(key_bytes)) {}

KnownRequests::Digest KnownRequests::digest(const Peer& peer, std::string_view header) const {
  return access::keyed_digest(key_, sender(peer), header);
}

std::shared_ptr<const KnownAnswer> KnownRequests::find(const Digest& digest) {
  const std::lock_guard lock(mutex_);
  const auto found = kept_.find(digest);
  return found == kept_.end() ? nullptr : found->second;
}

void KnownRequests::keep(const Digest& digest, KnownAnswer answer) {
  auto kept = std::make_shared<const KnownAnswer>(std::move(answer));
  const std::lock_guard lock(mutex_);
  if (kept_.size() >= most_kept) kept_.clear();  // who asks again is known again
  kept_[digest] = std::move(kept);
}

void KnownRequests::forget(const Digest& digest) {
  const std::lock_guard lock(mutex_);
  kept_.erase(digest);
}

}  // namespace cellarer::http
