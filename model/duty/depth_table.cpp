// SPDX-License-Identifier: MIT
#include "model/duty/depth_table.hpp"

#include <algorithm>
#include <cassert>

namespace cellarer::duty {

namespace {

constexpr std::size_t table_steps = cell::Curve::points - 1;

bool same(const BreathLoad& a, const BreathLoad& b) {
  return a.burst_mA == b.burst_mA && a.rest_mA == b.rest_mA && a.fraction == b.fraction;
}

/// The mean converter factor by depth, keeping the last factor beyond the depth where feeding ends, so that
/// no search is needed there.
class FactorByDepth {
 public:
  FactorByDepth(const Stimulator& stimulator, const cell::Curve& curve, const LoadShare& load, double use)
      : stimulator_(stimulator), curve_(curve), load_(load), use_(use) {}

  double at(double depth) {
    if (const double reference_mA = use_ * load_.load.mean_mA(); fed_ && reference_mA > 0) {
      const auto state = breath_state(stimulator_, curve_, load_.load, use_, depth);
      fed_ = state.has_value();
      if (fed_) factor_ = state->mean_mA / reference_mA;
    }
    return load_.share * factor_;
  }

 private:
  const Stimulator& stimulator_;
  const cell::Curve& curve_;
  const LoadShare& load_;
  double use_;
  bool fed_ = true;
  double factor_ = 1;
};

}  // namespace

std::vector<LoadShare> load_shares(const std::vector<Stretch>& stretches) {
  std::vector<LoadShare> shares;
  double total_mAh = 0;
  for (const Stretch& one : stretches) {
    const double charge_mAh = one.load.mean_mA() * hours_between(one.from, one.to);
    if (charge_mAh <= 0) continue;
    total_mAh += charge_mAh;
    const auto known =
        std::find_if(shares.begin(), shares.end(), [&](const LoadShare& share) { return same(share.load, one.load); });
    if (known != shares.end()) {
      known->share += charge_mAh;
    } else {
      shares.push_back({one.load, charge_mAh});
    }
  }
  for (LoadShare& share : shares) share.share /= total_mAh;
  return shares;
}

DepthTable::DepthTable(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& pacing, double use)
    : DepthTable(stimulator, curve, std::vector<LoadShare>{{pacing, 1}}, use) {}

DepthTable::DepthTable(const Stimulator& stimulator, const cell::Curve& curve, const std::vector<LoadShare>& shares,
                       double use) {
  assert(!shares.empty() && use > 0 && curve.capacity_mAh() > 0);
  std::vector<FactorByDepth> factors;
  factors.reserve(shares.size());
  for (const LoadShare& share : shares) factors.emplace_back(stimulator, curve, share, use);
  const auto charge_per_depth = [&](double depth) {
    double factor = 0;
    for (FactorByDepth& one : factors) factor += one.at(depth);
    return curve.capacity_mAh() / (use * factor);
  };
  constexpr double step = 1.0 / static_cast<double>(table_steps);
  charge_mAh_.reserve(table_steps + 1);
  charge_mAh_.push_back(0);
  double at_start = charge_per_depth(0);
  for (std::size_t i = 0; i < table_steps; ++i) {
    const double at_middle = charge_per_depth((static_cast<double>(i) + 0.5) * step);
    const double at_end = charge_per_depth(static_cast<double>(i + 1) * step);
    charge_mAh_.push_back(charge_mAh_.back() + step / 6 * (at_start + 4 * at_middle + at_end));
    at_start = at_end;
  }
}

double DepthTable::charge_to(double depth) const {
  const double position = std::clamp(depth, 0.0, 1.0) * static_cast<double>(table_steps);
  const std::size_t index = std::min(static_cast<std::size_t>(position), table_steps - 1);
  const double share = position - static_cast<double>(index);
  return charge_mAh_[index] + share * (charge_mAh_[index + 1] - charge_mAh_[index]);
}

double DepthTable::depth_after(double charge_mAh) const {
  if (charge_mAh <= 0) return 0;
  if (charge_mAh >= charge_mAh_.back()) return 1;
  const auto above = std::upper_bound(charge_mAh_.begin(), charge_mAh_.end(), charge_mAh);
  const auto index = static_cast<std::size_t>(above - charge_mAh_.begin()) - 1;
  const double share = (charge_mAh - charge_mAh_[index]) / (charge_mAh_[index + 1] - charge_mAh_[index]);
  return (static_cast<double>(index) + share) / static_cast<double>(table_steps);
}

double hours_to_cutoff(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load, double use) {
  assert(load.mean_mA() > 0);
  const DepthTable table(stimulator, curve, load, use);
  return table.charge_to(cutoff_depth(stimulator, curve, load, use)) / load.mean_mA();
}

}  // namespace cellarer::duty
