// SPDX-License-Identifier: MIT
#include "model/life/noise_bank.hpp"

namespace cellarer::life {

NoiseBank::NoiseBank(std::size_t most, const NoiseState& first) {
  NoiseStateOf<Lanes> state{};
  for (std::size_t i = 0; i < 4; ++i) {
    state.mean[i] = Lanes{} + first.mean[i];
    for (std::size_t j = i; j < 4; ++j) state.cov[i][j] = Lanes{} + first.cov[i][j];
  }
  groups_.assign((most + lanes - 1) / lanes, Group{state, {}});
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
    auto& [state, prediction] = groups_[group];
    pass_time(state, passed);
    prediction = life::predict<Lanes>(state, load_bias, load_wander, prediction.sd, prediction.along[3],
                                      prediction.variance, prediction.mean);
  }
}

LearnedOf<NoiseBank::Lanes> NoiseBank::learn_from_interval(const PredictionOf<Lanes>& prior, const Observed& observed) {
  LearnedOf<Lanes> learned{};
  for (std::size_t k = 0; k < lanes; ++k) {
    const int at = lane(k);
    const auto one = life::learn_from_interval({prior.mean[at], prior.variance[at], prior.sd[at], {}}, observed);
    learned.likelihood[at] = one.likelihood;
    learned.shift[at] = one.shift;
    learned.narrowed[at] = one.narrowed;
  }
  return learned;
}

CELLARER_BY_FOUR void NoiseBank::take_in(const NoiseModel& model, const Observed& observed) {
  const double mistake = model.mistake_probability * likelihood_of_mistake(observed);
  const bool point = observed.is_point();
  for (std::size_t group = 0; group < groups_in_use(); ++group) {
    auto& [state, prediction] = groups_[group];
    auto learned = point ? learn_from_point(prediction, observed.low) : learn_from_interval(prediction, observed);
    life::take_in(state, model, mistake, prediction, learned);
    prediction.sd = learned.likelihood;
  }
}

}  // namespace cellarer::life
