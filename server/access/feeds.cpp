// SPDX-License-Identifier: MIT
#include "server/access/feeds.hpp"

#include "server/access/secrets.hpp"

namespace cellarer::access {

namespace {

constexpr std::size_t key_bytes = 20, id_bytes = 16;
constexpr auto noted_every = std::chrono::minutes(1);

}  // namespace

std::string Feeds::make(const std::string& agency, const std::string& household, const std::string& purpose,
                        const std::string& account) {
  const auto key = random_token(key_bytes);
  store_.put_feed({random_token(id_bytes), agency, household, purpose, sha256(key), account, clock_.now()});
  return key;
}

std::optional<store::StoredFeed> Feeds::open(const std::string& key, const std::string& purpose) {
  auto feed = store_.feed(sha256(key));
  if (!feed || feed->purpose != purpose) return std::nullopt;
  const Instant now = clock_.now();
  if (!feed->read_at || now - *feed->read_at >= noted_every) store_.feed_read(feed->id, now);
  return feed;
}

}  // namespace cellarer::access
