// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstdint>
#include <map>
#include <string>

#include "tests/bench/events.hpp"
#include "tests/bench/score/pit.hpp"

namespace cellarer::bench {

/// Risk that was said of a night, against how often cut-off came in it: by decades of the risk said. The night may be
/// the coming one or one of the six after it: its risk is that cut-off comes between its two changing times.
struct ReliabilityBin {
  double said = 0;         ///< sum of the risks said
  std::uint64_t came = 0;  ///< cut-offs in these nights (of sets that would have stayed in)
  std::uint64_t nights = 0;
};
inline constexpr int reliability_bins = 8;  ///< below 1e-7, then a decade each, the last 0.1 to 1
inline constexpr int nights_ahead = 7;
using Reliability = std::array<ReliabilityBin, reliability_bins>;
std::string reliability_bin_name(int bin);

/// How true one forecaster's belief in the remaining time is, over a sample of evenings.
///
/// Slices: all; the gauge of this run (its name is given); depth, in thirds of the life that was expected (its median:
/// slicing by the life that came true would choose by what is being forecast); sets of this side that ended before.
class BeliefScore : public Observer {
 public:
  struct Sampling {
    double coverage = 0.125;  ///< share of evenings
    double crps = 0.01;
  };
  BeliefScore(std::size_t forecaster, std::string gauge, Sampling sampling)
      : forecaster_(forecaster), gauge_(std::move(gauge)), sampling_(sampling) {}

  void evening(const Evening& evening) override;
  void set_ended(const SetEnded&) override {}
  void warned(const Warned&) override {}
  void merge(const BeliefScore& other);

  const std::map<std::string, Coverage>& coverage() const { return slices_; }
  double mean_crps_h() const { return crps_count_ == 0 ? 0 : crps_sum_h_ / static_cast<double>(crps_count_); }
  std::uint64_t crps_count() const { return crps_count_; }
  const Reliability& reliability() const { return coming_night_; }
  /// Nights 2 to 7 ahead, as one.
  const Reliability& later_reliability() const { return later_nights_; }

 private:
  std::size_t forecaster_;
  std::string gauge_;
  Sampling sampling_;
  std::map<std::string, Coverage> slices_;
  std::map<std::string, std::array<Instant, 2>> last_set_;  ///< by slice and side, of this household
  std::size_t household_ = static_cast<std::size_t>(-1);
  double crps_sum_h_ = 0;
  std::uint64_t crps_count_ = 0;
  Reliability coming_night_{}, later_nights_{};

  void add_nights(Forecaster& forecaster, const Evening& evening);
  void add(const std::string& slice, const Evening& evening, double pit);
};

}  // namespace cellarer::bench
