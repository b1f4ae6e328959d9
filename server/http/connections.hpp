// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <list>
#include <map>
#include <memory>
#include <mutex>
#include <string>

#include <boost/asio/ip/address.hpp>

#include "server/config.hpp"

namespace cellarer::http {

/// The connections that are open, within their number: of all, and of one address, so that one address cannot take
/// them all. Where the number is reached, the one that has waited longest for its client's next request makes room;
/// where all are at work there is no room. From any thread.
class Connections {
  struct Entry {
    std::string owner;
    std::function<void()> close;
    bool waits = true;
  };
  using Entries = std::list<Entry>;  // the one that was at work last stands last

 public:
  /// A connection's place; given back with the object. `Connections` must outlive it.
  class Place {
   public:
    Place(Connections& connections, Entries::iterator entry) : connections_(connections), entry_(entry) {}
    ~Place() { connections_.leave(entry_); }
    Place(const Place&) = delete;
    Place& operator=(const Place&) = delete;

    /// Waits for a request, or for the handshake: may be closed to make room.
    void waits() { connections_.mark(entry_, true); }
    /// A request is being read, worked on or answered.
    void works() { connections_.mark(entry_, false); }

   private:
    Connections& connections_;
    Entries::iterator entry_;
  };

  explicit Connections(const Limits& limits) : limits_(limits) {}

  /// `owner` as `owner_of` names it; an empty one (a trusted proxy, which asks for many) has only the limit of all.
  /// `close` is called from another thread and must be quick. None: there is no room.
  std::unique_ptr<Place> enter(const std::string& owner, std::function<void()> close);

  void close_all();
  bool empty() const;

 private:
  bool make_room(const std::string* owner);
  void forget(Entries::iterator entry);
  void leave(Entries::iterator entry);
  void mark(Entries::iterator entry, bool waits);

  const Limits& limits_;
  mutable std::mutex mutex_;
  Entries entries_;
  Entries leaving_;  ///< told to close; count no more
  std::map<std::string, std::size_t> of_owner_;
};

/// Whose connections are counted together: an IPv4 address; of IPv6 the network of 64 bits, which is what one home or
/// office is given (RFC 6177).
std::string owner_of(const boost::asio::ip::address& address);

}  // namespace cellarer::http
