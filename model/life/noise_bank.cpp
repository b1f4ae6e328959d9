// SPDX-License-Identifier: MIT
#include "model/life/noise_bank.hpp"

#include <cmath>

#include "model/life/normal.hpp"

namespace cellarer::life {

NoiseBank::NoiseBank(std::size_t most, const NoiseState& first) {
  auto& state = first_.state;
  for (std::size_t i = 0; i < 4; ++i) {
    state.mean[i] = Lanes{} + first.mean[i];
    for (std::size_t j = i; j < 4; ++j) state.cov[i][j] = Lanes{} + first.cov[i][j];
  }
  groups_.reserve((most + lanes - 1) / lanes);
}

void NoiseBank::keep(const std::vector<std::size_t>& kept) {
  for (std::size_t to = 0; to < kept.size(); ++to) {
    const auto from = kept[to];
    if (from == to) continue;
    const auto& source = groups_[from / lanes].state;
    auto& target = groups_[to / lanes].state;
    for (std::size_t i = 0; i < 4; ++i) {
      target.mean[i][lane(to)] = source.mean[i][lane(from)];
      for (std::size_t j = i; j < 4; ++j) target.cov[i][j][lane(to)] = source.cov[i][j][lane(from)];
    }
  }
  size_ = kept.size();
}

void NoiseBank::renew_gauge(double bias_mean, double bias_variance, double wander_variance) {
  for (auto& group : groups_) {
    auto& [mean, cov] = group.state;
    mean[0] = Lanes{} + bias_mean;
    mean[1] = cov[0][1] = cov[0][2] = cov[0][3] = cov[1][2] = cov[1][3] = Lanes{};
    cov[0][0] = Lanes{} + bias_variance;
    cov[1][1] = Lanes{} + wander_variance;
  }
}

CELLARER_BY_FOUR void NoiseBank::predict(const PassedTime& passed, double load_bias, double load_wander) {
  // The last of the last group may be nobody: they expect what the one before them does.
  for (std::size_t nobody = size_; nobody % lanes != 0; ++nobody) expect(nobody, predicted_mean(size_ - 1), 0, 0, 1);
  for (std::size_t group = 0; group < groups_in_use(); ++group) {
    auto& [state, prediction, look] = groups_[group];
    pass_time(state, passed);
    prediction = life::predict<Lanes>(state, load_bias, load_wander, prediction.sd, prediction.along[3],
                                      prediction.variance, prediction.mean);
  }
  looked_ = false;
}

namespace {

using numerics::Lanes;

/// One end of a reading in four predictive distributions.
struct EndOfReading {
  Lanes z{}, bell{};  ///< in standard deviations, and e^(-z^2 / 2); nought for an open end
  Lanes tail{};       ///< probability beyond it, on its own side of the middle
  Lanes below{};      ///< of less
};

CELLARER_INLINE EndOfReading end_at(double value, const Lanes& mean, const Lanes& inverse) {
  EndOfReading end;
  end.z = (value - mean) * inverse;
  end.bell = numerics::exp(-0.5 * (end.z * end.z));
  end.tail = tail_above(numerics::abs(end.z), end.bell);
  end.below = numerics::choose(end.z > 0, 1 - end.tail, end.tail);
  return end;
}

constexpr double density_of_bell = 0.3989422804014327;  // 1 / sqrt(2 pi)

}  // namespace

CELLARER_INLINE NoiseBank::Look NoiseBank::look_at_point(const PredictionOf<Lanes>& prior, double value) {
  const Lanes inverse = 1 / prior.sd;
  const auto end = end_at(value, prior.mean, inverse);
  const Lanes density = end.bell * inverse * density_of_bell;
  return {{density + least_likelihood, value - prior.mean, prior.variance}, end.below, end.below};
}

/// As `learn_from_interval` of one (noise_filter.cpp).
CELLARER_INLINE NoiseBank::Look NoiseBank::look_at_interval(const PredictionOf<Lanes>& prior,
                                                            const Observed& observed) {
  using numerics::choose;
  const Lanes inverse = 1 / prior.sd, zero{}, one = zero + 1;
  EndOfReading low, high;
  high.below = one;
  if (!std::isinf(observed.low)) low = end_at(observed.low, prior.mean, inverse);
  if (!std::isinf(observed.high)) high = end_at(observed.high, prior.mean, inverse);
  const Lanes mass = choose(low.z > 0, low.tail - high.tail, high.below - low.below);
  const Lanes per_mass = density_of_bell / mass;
  const Lanes shift = (low.bell - high.bell) * per_mass;
  const Lanes spread = (low.z * low.bell - high.z * high.bell) * per_mass;
  const Lanes left = shift * shift - spread;
  const Lanes narrowed = choose(left < 0, zero, choose(left > 1, one, left));
  // So far out that the truncated Gaussian is all at the nearer end.
  const numerics::LaneBits too_far = mass < least_likelihood;
  const Lanes nearest = choose(prior.mean < observed.low, zero + observed.low,
                               choose(prior.mean > observed.high, zero + observed.high, prior.mean));
  return {{choose(too_far, zero + least_likelihood, mass), choose(too_far, nearest - prior.mean, prior.sd * shift),
           prior.variance * choose(too_far, one, narrowed)},
          low.below,
          high.below};
}

CELLARER_BY_FOUR void NoiseBank::look(const Observed& observed) {
  if (looked_) return;
  looked_ = true;
  const bool point = observed.is_point();
  for (std::size_t group = 0; group < groups_in_use(); ++group) {
    const auto& prediction = groups_[group].prediction;
    groups_[group].look = point ? look_at_point(prediction, observed.low) : look_at_interval(prediction, observed);
  }
}

CELLARER_BY_FOUR void NoiseBank::take_in(const NoiseModel& model, const Observed& observed) {
  look(observed);
  const double mistake = model.mistake_probability * likelihood_of_mistake(observed);
  for (std::size_t group = 0; group < groups_in_use(); ++group) {
    auto& [state, prediction, look] = groups_[group];
    life::take_in(state, model, mistake, prediction, look.learned);
  }
}

CELLARER_INLINE NoiseBank::Lanes NoiseBank::own(std::span<const double> numbers, std::size_t k) const {
  if (k + lanes <= size_) return numerics::load(&numbers[k]);
  Lanes some{};
  for (std::size_t i = k; i < size_; ++i) some[lane(i)] = numbers[i];
  return some;
}

CELLARER_BY_FOUR NoiseBank::Moments NoiseBank::moments(std::span<const double> weights, std::span<const double> first,
                                                       std::span<const double> last) const {
  const auto all = [](Lanes sum) { return (sum[0] + sum[1]) + (sum[2] + sum[3]); };
  Lanes use{}, bias{}, offset{}, tilt{}, capacity{};
  for (std::size_t group = 0, k = 0; group < groups_in_use(); ++group, k += lanes) {
    const auto& mean = groups_[group].state.mean;
    const Lanes weight = own(weights, k);
    use += weight * own(first, k);
    bias += weight * mean[0];
    offset += weight * mean[2];
    tilt += weight * mean[3];
    capacity += weight * own(last, k);
  }
  Moments moments{{all(use), all(bias), all(offset), all(tilt), all(capacity)}, {}};
  const auto [mean_use, mean_bias, mean_offset, mean_tilt, mean_capacity] = moments.mean;
  // What could be loops is written out, as compilers keep the places of what is summed in registers then.
  Lanes uu{}, ub{}, uo{}, ut{}, uc{}, bb{}, bo{}, bt{}, bc{}, oo{}, ot{}, oc{}, tt{}, tc{}, cc{};
  for (std::size_t group = 0, k = 0; group < groups_in_use(); ++group, k += lanes) {
    const auto& [mean, open] = groups_[group].state;
    const Lanes weight = own(weights, k);
    const Lanes u = own(first, k) - mean_use, b = mean[0] - mean_bias, o = mean[2] - mean_offset,
                t = mean[3] - mean_tilt, c = own(last, k) - mean_capacity;
    const Lanes wu = weight * u, wb = weight * b, wo = weight * o, wt = weight * t;
    uu += wu * u, ub += wu * b, uo += wu * o, ut += wu * t, uc += wu * c;
    bb += wb * b + weight * open[0][0], bo += wb * o + weight * open[0][2], bt += wb * t + weight * open[0][3];
    bc += wb * c;
    oo += wo * o + weight * open[2][2], ot += wo * t + weight * open[2][3], oc += wo * c;
    tt += wt * t + weight * open[3][3], tc += wt * c;
    cc += weight * c * c;
  }
  moments.cov = {{{all(uu), all(ub), all(uo), all(ut), all(uc)},
                  {0, all(bb), all(bo), all(bt), all(bc)},
                  {0, 0, all(oo), all(ot), all(oc)},
                  {0, 0, 0, all(tt), all(tc)},
                  {0, 0, 0, 0, all(cc)}}};
  return moments;
}

}  // namespace cellarer::life
