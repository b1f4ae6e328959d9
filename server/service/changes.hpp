// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

/// Who wants to hear that something of a household was written: what is kept of it in memory is made anew then, and
/// open pages are told. Only what this program writes through `HouseholdService`; whoever must not miss the rest looks
/// now and then himself.
namespace cellarer::service {

/// Thread-safe. Listeners are called one after another by the thread that has written, after it was stored: they are
/// short and throw nothing.
class Changes {
 public:
  using Listener = std::function<void(const std::string& household)>;

 private:
  using Listeners = std::multimap<std::string, std::shared_ptr<const Listener>>;
  struct Shared {
    std::mutex mutex;
    Listeners listeners;
  };

 public:
  /// Listens until it is gone; a call that has begun may end a moment later. May outlive `Changes`.
  class Listening {
   public:
    Listening(std::shared_ptr<Shared> shared, Listeners::iterator listener)
        : shared_(std::move(shared)), listener_(listener) {}
    ~Listening() {
      const std::lock_guard lock(shared_->mutex);
      shared_->listeners.erase(listener_);
    }
    Listening(const Listening&) = delete;
    Listening& operator=(const Listening&) = delete;

   private:
    std::shared_ptr<Shared> shared_;
    Listeners::iterator listener_;
  };

  /// In place of a household's key: all of them.
  static constexpr const char* all = "";

  /// Of all households, for ever: the listener outlives the service.
  void listen(Listener listener) { insert(all, std::move(listener)); }
  /// Of one household, or `all`, while what is returned lives.
  std::unique_ptr<Listening> listen(const std::string& household, Listener listener) {
    return std::make_unique<Listening>(shared_, insert(household, std::move(listener)));
  }

  /// `household` is a key (server/household_key.hpp).
  void tell(const std::string& household) const {
    std::vector<std::shared_ptr<const Listener>> told;
    {
      const std::lock_guard lock(shared_->mutex);
      for (const auto& key : {household, std::string(all)}) {
        const auto [first, last] = shared_->listeners.equal_range(key);
        for (auto one = first; one != last; ++one) told.push_back(one->second);
      }
    }
    for (const auto& listener : told) (*listener)(household);
  }

 private:
  Listeners::iterator insert(const std::string& household, Listener listener) {
    const std::lock_guard lock(shared_->mutex);
    return shared_->listeners.emplace(household, std::make_shared<const Listener>(std::move(listener)));
  }

  std::shared_ptr<Shared> shared_ = std::make_shared<Shared>();
};

}  // namespace cellarer::service
