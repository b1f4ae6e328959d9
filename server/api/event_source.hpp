// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

#include "server/config.hpp"

namespace cellarer::api {

/// An answer without an end, as text/event-stream (WHATWG HTML, server-sent events): whoever writes to the connection
/// asks for what is there to be said, waits to be woken or for a while, and asks again. Used by one thread at a time.
class EventSource {
 public:
  virtual ~EventSource() = default;

  /// `wake` is called, from any thread, when there may be something new. Once, before `next`.
  virtual void on_change(std::function<void()> wake) = 0;
  /// The events to be sent now: whole, perhaps none (""). Nothing: there will be no more, end it. A short read.
  virtual std::optional<std::string> next() = 0;
};

/// The streams that are open, within their number: in all, and of one address (of IPv6, its network of 64 bits, which
/// is what a home has). Thread-safe.
class EventPlaces {
 public:
  class Place {
   public:
    Place(EventPlaces& places, std::string owner) : places_(places), owner_(std::move(owner)) {}
    ~Place() { places_.leave(owner_); }
    Place(const Place&) = delete;
    Place& operator=(const Place&) = delete;

   private:
    EventPlaces& places_;
    std::string owner_;
  };

  explicit EventPlaces(const Limits& limits) : limits_(limits) {}

  /// Nothing: there is no room. `EventPlaces` must outlive the place.
  std::unique_ptr<Place> enter(const std::string& address);

 private:
  void leave(const std::string& owner);

  const Limits& limits_;
  std::mutex mutex_;
  std::size_t all_ = 0;
  std::map<std::string, std::size_t> of_owner_;
};

}  // namespace cellarer::api
