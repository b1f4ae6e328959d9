// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "model/rounds/share.hpp"

/// The lots of one item while they are handed out.
namespace cellarer::rounds {

class Lots {
 public:
  Lots(const PlanInput& input, const std::string& item);

  /// Which parts would meet a need of `packs` on that date, lasting until `lasting`: expiring first, or, with
  /// `latest_arrival_first`, those that came last, so that earlier rounds keep what only they can use. None: short.
  std::optional<std::vector<Part>> parts(int packs, Date date, Date lasting, bool latest_arrival_first = false) const;
  void take(const std::vector<Part>& parts) { move(parts, -1); }
  void give_back(const std::vector<Part>& parts) { move(parts, 1); }
  /// Dates on which lots arrive, ascending.
  const std::vector<Date>& arrivals() const { return arrivals_; }

 private:
  struct Lot {
    int number = 0;
    Date from, last;
  };
  void move(const std::vector<Part>& parts, int sign);

  std::vector<Lot> by_expiry_, by_arrival_;
  std::vector<int> left_;  ///< by number of the input's lot
  std::vector<Date> arrivals_;
  int whole_sets_ = 1;  ///< packs that hold whole sets
};

}  // namespace cellarer::rounds
