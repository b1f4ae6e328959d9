// SPDX-License-Identifier: MIT
#include "model/life/noise_bank.hpp"

namespace cellarer::life {

NoiseBank::NoiseBank(std::size_t most, const NoiseState& first) {
  const auto both = [](double value) { return Lanes{value, value}; };
  NoiseStateOf<Lanes> state{};
  for (std::size_t i = 0; i < 4; ++i) {
    state.mean[i] = both(first.mean[i]);
    for (std::size_t j = i; j < 4; ++j) state.cov[i][j] = both(first.cov[i][j]);
  }
  const auto room = (most + lanes - 1) / lanes;
  states_.assign(room, state);
  predictions_.resize(room);
  likelihoods_.resize(room);
}

void NoiseBank::keep(const std::vector<std::size_t>& kept) {
  for (std::size_t to = 0; to < kept.size(); ++to) {
    const auto from = kept[to];
    if (from == to) continue;
    const auto& source = states_[from / lanes];
    auto& target = states_[to / lanes];
    for (std::size_t i = 0; i < 4; ++i) {
      target.mean[i][lane(to)] = source.mean[i][lane(from)];
      for (std::size_t j = i; j < 4; ++j) target.cov[i][j][lane(to)] = source.cov[i][j][lane(from)];
    }
  }
  size_ = kept.size();
}

void NoiseBank::renew_gauge(double bias_mean, double bias_variance, double wander_variance) {
  const auto both = [](double value) { return Lanes{value, value}; };
  for (auto& [mean, cov] : states_) {
    mean[0] = both(bias_mean);
    mean[1] = cov[0][1] = cov[0][2] = cov[0][3] = cov[1][2] = cov[1][3] = both(0);
    cov[0][0] = both(bias_variance);
    cov[1][1] = both(wander_variance);
  }
}

void NoiseBank::predict(const PassedTime& passed, double load_bias, double load_wander) {
  // The second of the last pair may be nobody: it expects what the first does.
  if (size_ % lanes != 0) expect(size_, predicted_mean(size_ - 1), 0, 0, 1);
  for (std::size_t pair = 0; pair < pairs(); ++pair) {
    auto& state = states_[pair];
    auto& prediction = predictions_[pair];
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

void NoiseBank::take_in(const NoiseModel& model, const Observed& observed) {
  const double mistake = model.mistake_probability * likelihood_of_mistake(observed);
  const auto take = [&](std::size_t pair, const LearnedOf<Lanes>& learned) {
    likelihoods_[pair] = life::take_in(states_[pair], model, mistake, predictions_[pair], learned);
  };
  if (observed.is_point()) {
    for (std::size_t pair = 0; pair < pairs(); ++pair) take(pair, learn_from_point(predictions_[pair], observed.low));
  } else {
    for (std::size_t pair = 0; pair < pairs(); ++pair) take(pair, learn_from_interval(predictions_[pair], observed));
  }
}

}  // namespace cellarer::life
