// SPDX-License-Identifier: MIT
#include "model/review/next_steps.hpp"

#include <algorithm>
#include <cmath>

#include "model/life/normal.hpp"

namespace cellarer::review {

namespace {

struct Experiment {
  Step step;
  bool shows(Cause cause) const { return shown[static_cast<std::size_t>(cause)]; }
  std::array<bool, cause_count> shown;  ///< by Cause: the excess is seen under it
  double sd;
};

/// What each step shows, and how sharply. Three sets after a swap, compared with a baseline of a few sets; one set read
/// by a meter; a bench that measures to 2 % units that differ by what is left of the channel's spread; settings read
/// off a dial; hours noted for a week; what people say of when they change.
std::vector<Experiment> experiments(const Spreads& spreads) {
  const double set_sd = std::hypot(spreads.set, spreads.observation_at_least);
  const double three_sets = std::hypot(set_sd / std::sqrt(3.0), set_sd / std::sqrt(6.0));
  // Another unit has a channel of its own, whose level is not known.
  const double other_unit = std::hypot(three_sets, spreads.channel);
  const double other_lot = std::hypot(three_sets, std::sqrt(2.0) * spreads.lot);
  constexpr double bench_sd = 0.04, settings_sd = 0.015, hours_sd = 0.05, asked_sd = 0.15;
  return {{Step::swap_units, {true, true, false, true, false, true}, other_unit},
          {Step::other_lot, {true, false, true, true, true, true}, other_lot},
          {Step::meter_at_removal, {true, true, true, true, false, true}, std::hypot(set_sd, set_sd / std::sqrt(6.0))},
          {Step::measure_unit, {false, false, true, false, false, false}, bench_sd},
          {Step::read_settings, {true, false, false, false, false, false}, settings_sd},
          {Step::note_hours, {false, false, false, true, false, false}, hours_sd},
          {Step::ask_home, {false, false, false, false, false, true}, asked_sd}};
}

double expected_bits(const Experiment& experiment, const std::vector<Outcome>& stories) {
  constexpr int points = 400;
  constexpr double reach = 1.0;
  constexpr double step = 2 * reach / points;
  std::array<double, cause_count> probability{};
  for (const auto& story : stories) probability[static_cast<std::size_t>(story.cause)] += story.weight;
  double bits = 0;
  for (int k = 0; k <= points; ++k) {
    const double x = -reach + k * step;
    std::array<double, cause_count> joint{};
    double all = 0;
    for (const auto& story : stories) {
      const bool shown = experiment.shows(story.cause);
      const double sd = shown ? std::hypot(experiment.sd, story.excess.sd) : experiment.sd;
      const double density = story.weight * life::normal_density((x - (shown ? story.excess.mean : 0)) / sd) / sd;
      joint[static_cast<std::size_t>(story.cause)] += density;
      all += density;
    }
    for (std::size_t c = 0; c < cause_count; ++c) {
      if (joint[c] > 1e-12 && probability[c] > 0)
        bits += step * joint[c] * std::log2(joint[c] / (probability[c] * all));
    }
  }
  return std::max(bits, 0.0);
}

}  // namespace

Outcome outcome_of(const Hypothesis& story, const Sums& sums, double weight) {
  const auto size = posterior_size(sums, story.size);
  double loading = 0;
  for (Eigen::Index i = 0; i < story.pattern.size(); ++i) {
    if (std::abs(story.pattern[i]) > std::abs(loading)) loading = story.pattern[i];
  }
  return {story.cause, weight, {size.mean * loading, size.sd * std::abs(loading)}};
}

std::vector<NextStep> next_steps(const std::vector<Outcome>& stories, const Spreads& spreads) {
  constexpr double least_weight = 1e-3, least_bits = 0.02;
  std::vector<Outcome> counted;
  double total = 0;
  for (const auto& story : stories) {
    if (story.weight < least_weight) continue;
    counted.push_back(story);
    total += story.weight;
  }
  for (auto& story : counted) story.weight /= total;
  std::vector<NextStep> steps;
  for (const auto& experiment : experiments(spreads)) {
    const double bits = expected_bits(experiment, counted);
    if (bits >= least_bits) steps.push_back({experiment.step, bits});
  }
  std::stable_sort(steps.begin(), steps.end(), [](const auto& a, const auto& b) { return a.bits > b.bits; });
  return steps;
}

}  // namespace cellarer::review
