// SPDX-License-Identifier: MIT
#include "server/http/connections.hpp"

#include <algorithm>

#include <boost/asio/ip/network_v6.hpp>

namespace cellarer::http {

std::unique_ptr<Connections::Place> Connections::enter(const std::string& owner, std::function<void()> close) {
  const std::lock_guard lock(mutex_);
  if (!owner.empty()) {
    const auto found = of_owner_.find(owner);
    const bool full = found != of_owner_.end() && found->second >= limits_.address_connections;
    if (full && !make_room(&owner)) return nullptr;
  }
  if (entries_.size() >= limits_.connections && !make_room(nullptr)) return nullptr;
  entries_.push_back({owner, std::move(close)});
  if (!owner.empty()) ++of_owner_[owner];
  return std::make_unique<Place>(*this, std::prev(entries_.end()));
}

/// Tells the longest waiting one (of this owner) to close. It leaves a moment later, and counts no more from now on.
bool Connections::make_room(const std::string* owner) {
  const auto longest = std::find_if(entries_.begin(), entries_.end(), [&](const Entry& entry) {
    return entry.waits && (owner == nullptr || entry.owner == *owner);
  });
  if (longest == entries_.end()) return false;
  longest->close();
  forget(longest);
  leaving_.splice(leaving_.end(), entries_, longest);
  return true;
}

void Connections::forget(Entries::iterator entry) {
  const auto found = of_owner_.find(entry->owner);
  if (found != of_owner_.end() && --found->second == 0) of_owner_.erase(found);
  entry->owner.clear();
  entry->close = nullptr;
}

void Connections::leave(Entries::iterator entry) {
  const std::lock_guard lock(mutex_);
  const bool told = entry->close == nullptr;
  if (!told) forget(entry);
  (told ? leaving_ : entries_).erase(entry);
}

void Connections::mark(Entries::iterator entry, bool waits) {
  const std::lock_guard lock(mutex_);
  entry->waits = waits;
  if (entry->close) entries_.splice(entries_.end(), entries_, entry);
}

void Connections::close_all() {
  const std::lock_guard lock(mutex_);
  for (const Entry& entry : entries_) entry.close();
}

bool Connections::empty() const {
  const std::lock_guard lock(mutex_);
  return entries_.empty() && leaving_.empty();
}

std::string owner_of(const boost::asio::ip::address& address) {
  if (address.is_v4()) return address.to_string();
  return boost::asio::ip::network_v6(address.to_v6(), 64).canonical().to_string();
}

}  // namespace cellarer::http
