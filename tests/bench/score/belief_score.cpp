// SPDX-License-Identifier: MIT
#include "tests/bench/score/belief_score.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "tests/bench/score/chance.hpp"
#include "tests/bench/score/crps.hpp"
#include "tests/bench/sides.hpp"

namespace cellarer::bench {

namespace {

using std::chrono::seconds;

constexpr std::uint64_t for_coverage = 1, for_crps = 2, for_atoms = 3;

const char* sets_seen_slice(int sets_ended) {
  if (sets_ended == 0) return "sets seen: none";
  if (sets_ended <= 3) return "sets seen: 1 to 3";
  return sets_ended <= 10 ? "sets seen: 4 to 10" : "sets seen: more than 10";
}

/// By the median that is believed: the first third is not over while it lies more than twice the age ahead.
const char* depth_slice(Forecaster& forecaster, const Evening& evening) {
  const auto age = evening.at - evening.cells_since;
  if (forecaster.probability_by(evening.side, evening.at, evening.at + 2 * age) < 0.5) return "depth: first third";
  if (forecaster.probability_by(evening.side, evening.at, evening.at + age / 2) < 0.5) return "depth: middle third";
  return "depth: last third";
}

std::size_t bin_of(double risk) {
  const double decade = risk <= 0 ? -99 : std::floor(std::log10(risk));
  return static_cast<std::size_t>(std::clamp(decade + reliability_bins, 0.0, reliability_bins - 1.0));
}

void merge_into(Reliability& whole, const Reliability& part) {
  for (std::size_t i = 0; i < whole.size(); ++i) {
    whole[i].said += part[i].said;
    whole[i].came += part[i].came;
    whole[i].nights += part[i].nights;
  }
}

double crps_h(Forecaster& forecaster, const Evening& evening) {
  const auto below = [&](double hours) {
    return forecaster.probability_by(evening.side, evening.at, hours_after(evening.at, hours));
  };
  double certain_h = 24;
  while (certain_h < 24 * 100 && below(certain_h) < 0.99999) certain_h *= 1.3;
  constexpr int intervals = 120;
  return crps(below, hours_between(evening.at, evening.cutoff), 0, certain_h, intervals);
}

}  // namespace

std::string reliability_bin_name(int bin) {
  const auto power = [](int exponent) { return "1e" + std::to_string(exponent); };
  return bin == 0 ? "below 1e-7" : power(bin - reliability_bins) + " to " + power(bin + 1 - reliability_bins);
}

void BeliefScore::evening(const Evening& evening) {
  if (evening.cutoff <= evening.at) return;
  auto& forecaster = *evening.forecasters[forecaster_];
  if (chance_of(evening, for_coverage) < sampling_.coverage) {
    const double below = forecaster.probability_by(evening.side, evening.at, evening.cutoff);
    if (std::isnan(below)) return;
    const double before =
        forecaster.probability_by(evening.side, evening.at, std::max(evening.at, evening.cutoff - seconds(1)));
    const double pit = randomised_pit(before, below, chance_of(evening, for_atoms));
    add("all", evening, pit);
    add("gauge: " + gauge_, evening, pit);
    add(depth_slice(forecaster, evening), evening, pit);
    add(sets_seen_slice(evening.sets_ended), evening, pit);
    add_nights(forecaster, evening);
  }
  if (chance_of(evening, for_crps) < sampling_.crps) {
    crps_sum_h_ += crps_h(forecaster, evening);
    ++crps_count_;
  }
}

void BeliefScore::add_nights(Forecaster& forecaster, const Evening& evening) {
  Instant from = evening.at;
  double before = 0;
  for (int night = 1; night <= nights_ahead; ++night) {
    const Instant to = evening.at + night * (evening.next - evening.at);
    const double by = forecaster.probability_by(evening.side, evening.at, to);
    auto& bin = (night == 1 ? coming_night_ : later_nights_)[bin_of(by - before)];
    bin.said += by - before;
    bin.came += from < evening.cutoff && evening.cutoff <= to ? 1 : 0;
    ++bin.nights;
    from = to;
    before = by;
  }
}

void BeliefScore::add(const std::string& slice, const Evening& evening, double pit) {
  if (evening.household != household_) last_set_.clear();
  household_ = evening.household;
  auto& coverage = slices_[slice];
  coverage.add(pit);
  auto& last = last_set_[slice][index_of(evening.side)];
  if (std::exchange(last, evening.cells_since) != evening.cells_since) coverage.add_set();
}

void BeliefScore::merge(const BeliefScore& other) {
  for (const auto& [slice, coverage] : other.slices_) slices_[slice].merge(coverage);
  crps_sum_h_ += other.crps_sum_h_;
  crps_count_ += other.crps_count_;
  merge_into(coming_night_, other.coming_night_);
  merge_into(later_nights_, other.later_nights_);
}

}  // namespace cellarer::bench
