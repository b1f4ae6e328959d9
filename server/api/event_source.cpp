// SPDX-License-Identifier: MIT
#include "server/api/event_source.hpp"

#include <boost/asio/ip/address.hpp>
#include <boost/asio/ip/network_v6.hpp>

namespace cellarer::api {

namespace {

std::string owner_of(const std::string& address) {
  boost::system::error_code error;
  const auto parsed = boost::asio::ip::make_address(address, error);
  if (error || !parsed.is_v6()) return address;
  return boost::asio::ip::network_v6(parsed.to_v6(), 64).canonical().to_string();
}

}  // namespace

std::unique_ptr<EventPlaces::Place> EventPlaces::enter(const std::string& address) {
  const auto owner = owner_of(address);
  const std::lock_guard lock(mutex_);
  const auto found = of_owner_.find(owner);
  if (all_ >= limits_.event_streams) return nullptr;
  if (found != of_owner_.end() && found->second >= limits_.address_event_streams) return nullptr;
  auto place = std::make_unique<Place>(*this, owner);
  ++all_;
  ++of_owner_[owner];
  return place;
}

void EventPlaces::leave(const std::string& owner) {
  const std::lock_guard lock(mutex_);
  --all_;
  const auto found = of_owner_.find(owner);
  if (--found->second == 0) of_owner_.erase(found);
}

}  // namespace cellarer::api
