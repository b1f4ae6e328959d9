// SPDX-License-Identifier: MIT
// When a set comes to its end, over all hypotheses and those that stand between them.
#include <algorithm>
#include <cmath>
#include <limits>

#include "model/life/set_posterior.hpp"
#include "model/quantities/square.hpp"

namespace cellarer::life {

namespace {

/// Ends by equal bins of charge, half as wide as days blur the least blurred: those of a bin as one of the same mean
/// and variance.
std::vector<Crossing> told_together(const std::vector<Crossing>& ends) {
  constexpr std::size_t most_bins = 400;
  double low = std::numeric_limits<double>::infinity(), high = 0, blur = low;
  for (const auto& end : ends) {
    low = std::min(low, end.charge_mAh);
    high = std::max(high, end.charge_mAh);
    blur = std::min(blur, end.sd_mAh);
  }
  const auto bins = std::clamp<std::size_t>(static_cast<std::size_t>((high - low) / (0.5 * blur)), 1, most_bins);
  const double bins_per_mAh = high > low ? static_cast<double>(bins) / (high - low) : 0;
  struct Sums {
    double weight = 0, charge = 0, square = 0;
  };
  std::vector<Sums> sums(bins);
  for (const auto& [charge_mAh, sd_mAh, weight] : ends) {
    const double above = charge_mAh - low;
    auto& bin = sums[std::min(static_cast<std::size_t>(above * bins_per_mAh), bins - 1)];
    bin.weight += weight;
    bin.charge += weight * above;
    bin.square += weight * (square(above) + square(sd_mAh));
  }
  std::vector<Crossing> told;
  told.reserve(bins);
  for (const auto& bin : sums) {
    if (!(bin.weight > 0)) continue;
    const double mean = bin.charge / bin.weight;
    told.push_back({low + mean, std::sqrt(bin.square / bin.weight - square(mean)), bin.weight});
  }
  return told;
}

}  // namespace

/// How many hypotheses of capacity there are to be in place of one: of cells that are hardly known the ends of
/// neighbours lie far apart, and in a set that lasts long, whose days blur them little, they would be as many spikes.
int SetPosterior::capacities_for_one() const {
  constexpr int most = 4;
  constexpr double near_enough = 3;  // times the blur
  const auto lines = static_cast<std::size_t>(setup_.grid.capacity);
  if (setup_.start != StartDepth::fresh || lines < 2) return 1;
  const double step = (log_capacities_[lines - 1] - log_capacities_[0]) / static_cast<double>(lines - 1);
  double end_mAh = 0;
  for (const auto& node : nodes_) end_mAh += node.weight * node.cutoff_mAh;
  return std::clamp(static_cast<int>(std::lround(step * end_mAh / (near_enough * blur_mAh(end_mAh)))), 1, most);
}

/// What two hypotheses of one use and neighbouring capacities weigh tells what others between them do: the logarithm
/// follows a cubic whose slope at each is that of its two neighbours (Catmull and Rom's), exact where the weights are
/// those of a normal distribution. Their ends lie on straight lines.
void SetPosterior::add_between(const std::vector<const Node*>& of_use, int parts, std::vector<Crossing>& ends) const {
  constexpr double negligible = 1e-9;
  std::vector<double> logs(of_use.size());
  for (std::size_t line = 0; line < of_use.size(); ++line)
    if (of_use[line] != nullptr) logs[line] = std::log(of_use[line]->weight);
  for (std::size_t line = 0; line + 1 < of_use.size(); ++line) {
    const auto *here = of_use[line], *next = of_use[line + 1];
    if (here == nullptr || next == nullptr || std::max(here->weight, next->weight) < negligible) continue;
    const double rise = logs[line + 1] - logs[line];
    const bool one_before = line > 0 && of_use[line - 1] != nullptr;
    const bool one_after = line + 2 < of_use.size() && of_use[line + 2] != nullptr;
    const double begins = one_before ? 0.5 * (logs[line + 1] - logs[line - 1]) : rise;
    const double ends_at = one_after ? 0.5 * (logs[line + 2] - logs[line]) : rise;
    for (int part = 1; part < parts; ++part) {
      const double x = static_cast<double>(part) / parts;
      const double bend = x * (1 - x) * ((begins - rise) * (1 - x) - (ends_at - rise) * x);
      ends.push_back({here->cutoff_mAh + x * (next->cutoff_mAh - here->cutoff_mAh),
                      here->cutoff_sd_mAh + x * (next->cutoff_sd_mAh - here->cutoff_sd_mAh),
                      std::exp(logs[line] + x * rise + bend)});
    }
  }
}

CrossingDistribution SetPosterior::cutoff() const {
  std::vector<Crossing> ends;
  const int parts = capacities_for_one();
  ends.reserve(nodes_.size() * static_cast<std::size_t>(parts));
  const auto lines = static_cast<std::size_t>(setup_.grid.capacity);
  std::vector<std::vector<const Node*>> by_use(parts > 1 ? uses_.size() : 0, std::vector<const Node*>(lines, nullptr));
  for (const auto& node : nodes_) {
    if (node.weight == 0) continue;
    const auto line = node.scale / tables_.size();
    const bool dud = line >= lines;
    ends.push_back({node.cutoff_mAh, node.cutoff_sd_mAh, dud ? parts * node.weight : node.weight});
    if (parts > 1 && !dud) by_use[node.use][line] = &node;
  }
  for (const auto& of_use : by_use) add_between(of_use, parts, ends);
  double total = 0;
  for (auto& end : ends) total += end.weight *= alive(end.charge_mAh, end.sd_mAh);
  for (auto& end : ends) end.weight /= total;
  return CrossingDistribution(parts > 1 ? told_together(ends) : std::move(ends), survived_mAh_);
}

}  // namespace cellarer::life
