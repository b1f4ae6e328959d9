// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <deque>
#include <memory>

#include "server/service/kept_lessons.hpp"

namespace cellarer::service {

/// The homes of which something was recorded, or whose forecast somebody asked for, last. Who looks records, of one
/// side and of the other, and looks again; the planner's row follows: for these few the sets that are in are kept as
/// they were followed, some 300 KB each. Not for several threads.
class RecentHomes {
 public:
  void came(const std::shared_ptr<KeptLessons>& home) {
    const auto known = std::find_if(homes_.begin(), homes_.end(), [&](const auto& one) { return one.lock() == home; });
    if (known != homes_.end()) homes_.erase(known);
    homes_.push_back(home);
    home->keep_running(true);
    if (homes_.size() <= most) return;
    if (const auto oldest = homes_.front().lock()) oldest->keep_running(false);
    homes_.pop_front();
  }

 private:
  static constexpr std::size_t most = 96;
  std::deque<std::weak_ptr<KeptLessons>> homes_;
};

}  // namespace cellarer::service
