// SPDX-License-Identifier: MIT
#pragma once
#include <mutex>

#include "model/life/load_table.hpp"

namespace cellarer::service {

/// The tables of all loads that homes have, kept for all of them and shared by all threads. Two threads that want a new
/// one at one time may both make it: nobody waits for another's.
class SharedLoadTables final : public life::LoadTables {
 public:
  std::shared_ptr<const life::LoadTable> get(const duty::Stimulator& unit, const cell::Curve& curve,
                                             const duty::BreathLoad& pacing) override {
    {
      const std::lock_guard lock(mutex_);
      if (auto known = find(unit, curve, pacing)) return known;
    }
    auto made = std::make_shared<const life::LoadTable>(unit, curve, pacing);
    const std::lock_guard lock(mutex_);
    keep(unit, curve, pacing, made);
    return made;
  }

 private:
  std::mutex mutex_;
};

}  // namespace cellarer::service
