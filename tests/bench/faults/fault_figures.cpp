// SPDX-License-Identifier: MIT
#include "tests/bench/faults/fault_figures.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <mutex>
#include <thread>

#include <boost/math/distributions/binomial.hpp>

#include "tests/bench/faults/cause_scenarios.hpp"
#include "tests/bench/report/table.hpp"

namespace cellarer::bench {

namespace {

constexpr std::uint64_t seeds_apart = 1000003;
constexpr int healthy_later = 20;
constexpr int enough_for_a_verdict = 200;
constexpr double much_short_lot = 0.20;
constexpr double z90 = 1.6449;  ///< half width of the middle 90 % of a normal distribution, in standard deviations

struct Found {
  bool open_before = false;
  int after_sets = 1 << 20;  ///< of the faulty side, ended since the fault began
};

Found look_for(const FaultWorld& world, const Fault& fault, const review::HouseholdHistory& history,
               const review::ReviewOptions& options) {
  Found found;
  const auto begins = fault_begins(world, fault.side);
  for (const auto& finding : review::review_household(history, {}, options)) {
    if (!review::in_scope(fault.side, finding.scope)) continue;
    if (finding.raised_at < begins) {
      found.open_before = found.open_before || !finding.ended_at || *finding.ended_at > begins;
      continue;
    }
    const auto sets = std::count_if(history.records.begin(), history.records.end(), [&](const auto& record) {
      return record.side == fault.side && record.from >= begins && record.to <= finding.raised_at;
    });
    found.after_sets = std::min(found.after_sets, static_cast<int>(sets));
  }
  return found;
}

DetectionFigures try_detection(double set_sd, const FaultTrialSize& size, const Done& done) {
  DetectionFigures figures;
  figures.set_sd = set_sd;
  FaultWorld world;
  world.set_sd = set_sd;
  const auto options = options_learnt_in(world, size, seeds_apart);
  std::mutex mutex;
  // Whatever the lots do is in the healthy homes below, by which the review has learnt; here the fault begins within a
  // lot, and sets differ by as much as is said all the same.
  world.same_lot_throughout = true;
  each_home(size.homes, [&](int home) {
    const Fault fault;
    const auto history = simulate_history(world, fault, size.seed, static_cast<std::uint64_t>(home));
    const auto found = look_for(world, fault, history, options);
    const std::lock_guard lock(mutex);
    done(1);
    figures.open_before += found.open_before ? 1 : 0;
    if (found.open_before) return;
    ++figures.within_4.tried, ++figures.within_8.tried;
    figures.within_4.hits += found.after_sets <= 4 ? 1 : 0;
    figures.within_8.hits += found.after_sets <= 8 ? 1 : 0;
  });
  world.same_lot_throughout = false;
  world.later = healthy_later;
  Fault none;
  none.present = false;
  each_home(size.homes, [&](int home) {
    const auto history = simulate_history(world, none, size.seed + 2 * seeds_apart, static_cast<std::uint64_t>(home));
    const auto findings = review::review_agency({history}, options).findings;
    const std::lock_guard lock(mutex);
    done(1);
    figures.false_findings.hits += static_cast<int>(findings.size());
    figures.false_findings.tried += static_cast<int>(history.records.size());
  });
  return figures;
}

/// What is said of the lot, if it is condemned: log use more.
std::optional<review::Size> condemned(const std::vector<review::HouseholdHistory>& homes, const std::string& lot,
                                      const review::ReviewOptions& options) {
  for (const auto& finding : review::review_agency(homes, options).findings) {
    if (finding.kind == review::Kind::bad_lot && finding.household.empty() && finding.subject == lot)
      return finding.change;
  }
  return std::nullopt;
}

struct LotTrial {
  double short_by;
  std::uint64_t seed;
  Share* found;
  Share* range;  ///< that the range said of it holds the truth
};

void try_lots(FaultFigures& figures, const FaultTrialSize& size, const Done& done) {
  FaultWorld world;
  const auto options = options_learnt_in(world, size, seeds_apart);
  std::mutex mutex;
  Share as_healthy, much_found;
  const LotTrial trials[] = {
      {short_lot, size.seed + 3 * seeds_apart, &figures.lots_found, &figures.range_of_12},
      {0, size.seed + 4 * seeds_apart, &figures.false_lots, &as_healthy},
      {much_short_lot, size.seed + 5 * seeds_apart, &much_found, &figures.range_of_20},
  };
  for (const auto& trial : trials) {
    each_home(size.homes, [&](int lot) {
      const auto name = shared_lot_name(lot);
      const auto said = condemned(homes_of_lot(world, trial.short_by, trial.seed, lot), name, options);
      const double truth = -std::log(1 - trial.short_by) + lot_effect(world, trial.seed, name);
      const std::lock_guard lock(mutex);
      done(lot_homes);
      ++trial.found->tried;
      if (!said) return;
      ++trial.found->hits, ++trial.range->tried;
      trial.range->hits += std::abs(said->mean - truth) <= z90 * said->sd ? 1 : 0;
    });
  }
}

std::string of(const Share& share) {
  return percent(share.value()) + " (" + std::to_string(share.hits) + " of " + std::to_string(share.tried) + ")";
}

FaultRow at_least(const std::string& what, double target, const Share& share) {
  return {what,
          "at least " + percent(target, 0),
          of(share),
          share.value() >= target,
          share.tried >= enough_for_a_verdict,
          FaultRow::Aim::at_least,
          target,
          share};
}

FaultRow nine_in_ten(const std::string& what, const Share& share) {
  constexpr double scatter = 0.03;  // three standard errors of a thousand trials
  return {what,
          "about 90 %",
          of(share),
          std::abs(share.value() - 0.9) <= scatter,
          share.tried >= enough_for_a_verdict,
          FaultRow::Aim::about,
          0.9,
          share};
}

FaultRow at_most_one_in_200(const std::string& what, const Share& share) {
  return {what,
          "at most 1 in 200",
          number(200 * share.value(), 2) + " in 200 (" + std::to_string(share.hits) + " of " +
              std::to_string(share.tried) + ")",
          200 * share.value() <= 1,
          share.tried >= 2 * enough_for_a_verdict,
          FaultRow::Aim::at_most,
          1.0 / 200,
          share};
}

}  // namespace

double work_of(const FaultTrialSize& size) {
  return 4.0 * size.homes + 3.0 * lot_homes * size.homes + work_of_causes(size);
}

void each_home(int homes, const std::function<void(int)>& one) {
  std::atomic<int> next{0};
  std::vector<std::jthread> threads;
  for (unsigned t = 0; t < std::max(std::thread::hardware_concurrency(), 1U); ++t) {
    threads.emplace_back([&] {
      for (int home = next++; home < homes; home = next++) one(home);
    });
  }
}

review::ReviewOptions options_learnt_in(const FaultWorld& world, const FaultTrialSize& size, std::uint64_t apart) {
  constexpr std::uint64_t learnt_homes = 100;  // from twenty the spread is uncertain by 5 %, and a row tells of that
  std::vector<review::SetRecord> records;
  Fault none;
  none.present = false;
  for (std::uint64_t home = 0; home < learnt_homes; ++home) {
    const auto history = simulate_history(world, none, size.seed + apart, home);
    records.insert(records.end(), history.records.begin(), history.records.end());
  }
  review::ReviewOptions options;
  options.limits = size.limits;
  options.spreads.set = review::pooled_set_spread(records, options.spreads);
  return options;
}

FaultFigures try_faults(const FaultTrialSize& size, const Done& done) {
  FaultFigures figures;
  figures.four_percent = try_detection(0.04, size, done);
  figures.six_percent = try_detection(0.06, size, done);
  try_lots(figures, size, done);
  try_causes(figures, size, done);
  return figures;
}

std::vector<FaultRow> rows_of(const FaultFigures& figures) {
  const auto &four = figures.four_percent, &six = figures.six_percent;
  return {at_least("use up 10 %, set noise 4 %: found within 4 sets", 0.70, four.within_4),
          at_least("the same within 8 sets", 0.95, four.within_8),
          at_least("use up 10 %, set noise 6 %: found within 4 sets", 0.30, six.within_4),
          at_least("the same within 8 sets", 0.75, six.within_8),
          at_most_one_in_200("healthy sets, noise 4 %: false findings of any kind", four.false_findings),
          at_most_one_in_200("the same, noise 6 %", six.false_findings),
          at_least("lot 12 % short, 6 homes with 2 sets each: found", 0.95, figures.lots_found),
          at_most_one_in_200("healthy lots: falsely condemned", figures.false_lots),
          nine_in_ten("such a lot found: the range said (90 %) holds the truth", figures.range_of_12),
          nine_in_ten("the same of a lot 20 % short", figures.range_of_20),
          at_least("the named cause is the true one, where the evidence allows", 0.90, figures.named_right),
          at_least("\"cannot tell\" where it does not", 0.90, figures.told_cannot),
          at_least("of all causes named anywhere, the true one", 0.90, figures.right_of_named)};
}

bool borne_out(const Share& share, FaultRow::Aim aim, double bound, double probability) {
  if (share.tried == 0) return false;
  const boost::math::binomial truth(share.tried, bound);
  const double as_few = cdf(truth, share.hits);
  const double as_many = share.hits > 0 ? cdf(complement(truth, share.hits - 1)) : 1;
  return (aim == FaultRow::Aim::at_most || as_few >= probability) &&
         (aim == FaultRow::Aim::at_least || as_many >= probability);
}

}  // namespace cellarer::bench
