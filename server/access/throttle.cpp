// SPDX-License-Identifier: MIT
#include "server/access/throttle.hpp"

#include <algorithm>
#include <cmath>

#include <boost/asio/ip/address.hpp>

namespace cellarer::access {

namespace {

constexpr double at_once = 20;
constexpr double seconds_each = 6;
constexpr std::size_t most_addresses = 20'000;

std::string network_of(const std::string& address) {
  boost::system::error_code error;
  const auto parsed = boost::asio::ip::make_address(address, error);
  if (error || !parsed.is_v6()) return address;
  const auto bytes = parsed.to_v6().to_bytes();
  return std::string(bytes.begin(), bytes.begin() + 8);
}

double refilled(double left, Instant since, Instant now) {
  const auto passed = std::max<double>(0, static_cast<double>((now - since).count()));
  return std::min(at_once, left + passed / seconds_each);
}

}  // namespace

Throttle::Bucket& Throttle::bucket_of(const std::string& address, Instant now) {
  const auto network = network_of(address);
  if (const auto found = buckets_.find(network); found != buckets_.end()) return found->second;
  if (buckets_.size() >= most_addresses) {
    std::erase_if(buckets_, [&](const auto& one) { return refilled(one.second.left, one.second.at, now) >= at_once; });
  }
  if (buckets_.size() < most_addresses) return buckets_[network] = {at_once, now};
  if (!rest_) rest_ = {at_once, now};
  return *rest_;
}

std::optional<int> Throttle::attempt(const std::string& address) {
  const Instant now = clock_.now();
  const std::lock_guard lock(mutex_);
  Bucket& bucket = bucket_of(address, now);
  bucket.left = refilled(bucket.left, bucket.at, now);
  bucket.at = now;
  if (bucket.left < 1) return std::max(1, static_cast<int>(std::ceil((1 - bucket.left) * seconds_each)));
  bucket.left -= 1;
  return std::nullopt;
}

void Throttle::forgive(const std::string& address) {
  const Instant now = clock_.now();
  const std::lock_guard lock(mutex_);
  Bucket& bucket = bucket_of(address, now);
  bucket.left = std::min(at_once, bucket.left + 1);
}

}  // namespace cellarer::access
