// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstdint>

#include "tests/bench/events.hpp"
#include "tests/bench/score/poisson.hpp"

namespace cellarer::bench {

/// What a run cost and what went wrong in it, counted: nights, ends of sets by cause, warnings, charge left.
class RunTally : public Observer {
 public:
  void evening(const Evening& evening) override;
  void set_ended(const SetEnded& set) override;
  void warned(const Warned& warned) override;
  void merge(const RunTally& other);

  double side_nights() const { return side_hours_ / 24; }
  std::uint64_t sets() const;  ///< that came out, for whatever reason
  std::uint64_t ended(SetEnd end) const { return ends_[static_cast<std::size_t>(end)]; }
  std::uint64_t warnings() const { return warnings_; }
  /// Sides that stopped though a forecast covers that: all causes but `sudden`.
  std::uint64_t run_outs() const;

  double run_outs_per_million_side_nights() const { return per_million_side_nights(static_cast<double>(run_outs())); }
  /// The 95 % bound of the same (poisson.hpp).
  double bound_per_million_side_nights() const { return per_million_side_nights(poisson_upper_bound(run_outs())); }
  double bound_per_million_side_nights(SetEnd end) const {
    return per_million_side_nights(poisson_upper_bound(ended(end)));
  }
  double warnings_per_thousand_side_nights() const { return static_cast<double>(warnings_) / side_nights() * 1e3; }
  double warnings_per_wearer_year() const { return static_cast<double>(warnings_) / wearer_years(); }
  /// Mean share of the charge that was left in the sets that came out, planned and all.
  double charge_wasted() const { return charge_left_ / static_cast<double>(sets()); }
  double sets_per_wearer_year() const { return static_cast<double>(sets()) / wearer_years(); }

 private:
  std::array<std::uint64_t, set_end_count> ends_{};
  std::uint64_t warnings_ = 0;
  double side_hours_ = 0;
  double charge_left_ = 0;

  double per_million_side_nights(double count) const { return count / side_nights() * 1e6; }
  double wearer_years() const { return side_hours_ / 2 / (24 * 365.25); }
};

/// As the table names them.
const char* name_of(SetEnd end);

/// Whether the side stopped for a cause that the forecast is judged by.
bool is_run_out(SetEnd end);
/// Whether the side stopped, for whatever cause.
inline bool is_stop(SetEnd end) { return is_run_out(end) || end == SetEnd::sudden; }

}  // namespace cellarer::bench
