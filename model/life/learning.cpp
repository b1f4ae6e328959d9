// SPDX-License-Identifier: MIT
#include "model/life/learning.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "model/quantities/square.hpp"

namespace cellarer::life {

namespace {

// Places in the joint vector: household, the two sides, then for each unit its channels' use and bias, then the
// exponent of each model of unit, then use, offset, tilt and capacity of each cell type.
constexpr Eigen::Index household_place = 0;
Eigen::Index side_place(Side side) { return side == Side::left ? 1 : 2; }
constexpr Eigen::Index places_a_type = 4;

/// A home is through its lot of cells in about so long: what was learned of their capacity is then another lot's.
constexpr double days_a_lot = 90;
/// Of a gauge's noise over its profile's, as sets are followed.
constexpr double least_noise_variance = 1, most_noise_variance = 4;
/// An old average gives way slowly: a gauge may change too.
constexpr double most_readings = 400;
/// Where a profile knows no tilt, there is next to none.
constexpr double least_tilt_sd_V = 1e-4;

/// d ln(mean current) / d(exponent): the burst's share of the mean that grows with amplitude, times ln(a / a_ref),
/// which the load itself tells.
double exponent_loading(const duty::SideElectronics& electronics, const duty::BreathLoad& load) {
  const double grown_mA = load.burst_mA - electronics.burst_base_mA;
  if (grown_mA <= 0 || electronics.burst_slope_mA <= 0 || load.mean_mA() <= 0) return 0;
  const double log_amplitude = std::log(grown_mA / electronics.burst_slope_mA) / electronics.exponent;
  return load.fraction * grown_mA / load.mean_mA() * log_amplitude;
}

/// A column for each of a set's five numbers. Products of so few are reckoned number by number: the blocks by which
/// Eigen multiplies large matrices cost more than they save.
using ByUnknown = Eigen::Matrix<double, Eigen::Dynamic, row_count>;

/// The covariance of a set's five numbers.
SetBelief::Matrix about(const Eigen::MatrixXd& loading, const Eigen::MatrixXd& covariance) {
  const ByUnknown shared = covariance.lazyProduct(loading.transpose());
  return loading.lazyProduct(shared);
}

}  // namespace

Learning::Learning(const Household& household) : set_log_sd_(household.agency.set_log_sd) {
  std::vector<std::string> models;
  for (const auto& unit : household.units) {
    const auto known = std::find(models.begin(), models.end(), unit.stimulator.id);
    model_of_unit_.push_back(static_cast<std::size_t>(known - models.begin()));
    if (known == models.end()) models.push_back(unit.stimulator.id);
    stimulators_.push_back(unit.stimulator);
    const auto same = std::find_if(household.units.begin(), household.units.end(),
                                   [&](const UnitInUse& other) { return other.serial == unit.serial; });
    channels_of_unit_.push_back(static_cast<std::size_t>(same - household.units.begin()));
  }
  std::vector<const cell::Profile*> types;
  for (const auto& [id, profile] : household.cell_profiles) types.push_back(&profile);
  if (household.unknown_cells && !household.cell_profiles.contains(household.unknown_cells->id))
    types.push_back(&*household.unknown_cells);

  const auto units = static_cast<Eigen::Index>(household.units.size());
  first_model_place_ = 3 + 4 * units;
  const auto first_type_place = first_model_place_ + static_cast<Eigen::Index>(models.size());
  const auto size = first_type_place + places_a_type * static_cast<Eigen::Index>(types.size());
  mean_ = first_variance_ = drift_variance_a_day_ = Eigen::VectorXd::Zero(size);
  const auto& agency = household.agency;
  first_variance_[household_place] = square(agency.household_log_sd);
  for (const auto side : both_sides) {
    first_variance_[side_place(side)] = square(agency.side_log_sd);
    drift_variance_a_day_[side_place(side)] = square(agency.drift_log_sd_per_month) / 30;
  }
  channels_.resize(2 * household.units.size());
  for (std::size_t unit = 0; unit < household.units.size(); ++unit) {
    const auto& stimulator = household.units[unit].stimulator;
    const auto known = agency.model(stimulator.id);
    for (const auto side : both_sides) {
      mean_[channel_place(side, unit)] = known.use_mean;
      mean_[bias_place(side, unit)] = known.bias_mean_points;
      first_variance_[channel_place(side, unit)] =
          square(known.channel_log_sd < 0 ? stimulator.relative_sd : known.channel_log_sd);
      first_variance_[bias_place(side, unit)] =
          square(known.bias_sd_points < 0 ? stimulator.gauge.bias_points : known.bias_sd_points);
      auto& channel = channels_[channel_index(side, unit)];
      channel.noise_variance = std::max(square(known.gauge_noise_scale), least_noise_variance);
    }
    mean_[exponent_place(unit)] = known.exponent_mean;
    first_variance_[exponent_place(unit)] = square(known.exponent_sd);
  }
  for (std::size_t type = 0; type < types.size(); ++type) {
    const auto place = first_type_place + places_a_type * static_cast<Eigen::Index>(type);
    const auto& spread = types[type]->spread;
    type_places_[types[type]->id] = place;
    first_variance_[place] = square(spread.curve_charge_log_sd);
    first_variance_[place + 1] = square(spread.type_offset_sd_V);
    first_variance_[place + 2] = square(spread.type_tilt_sd_V);
    first_variance_[place + 3] = square(type_capacity_log_sd(spread));
    drift_variance_a_day_[place + 3] = square(spread.lot_log_sd) / days_a_lot;
  }
  cov_ = first_variance_.asDiagonal();
  for (const auto* type : types) {
    const auto place = type_places_.at(type->id);
    const auto& spread = type->spread;
    cov_(place + 1, place + 3) = cov_(place + 3, place + 1) =
        spread.offset_capacity_correlation * spread.type_offset_sd_V * type_capacity_log_sd(spread);
  }
  first_mean_ = mean_;
}

std::size_t Learning::channel_index(Side side, std::size_t unit) const {
  return 2 * channels_of_unit_[unit] + (side == Side::left ? 0 : 1);
}

Eigen::Index Learning::channel_place(Side side, std::size_t unit) const {
  return 3 + 2 * static_cast<Eigen::Index>(channel_index(side, unit));
}

Eigen::Index Learning::bias_place(Side side, std::size_t unit) const { return channel_place(side, unit) + 1; }

Eigen::Index Learning::exponent_place(std::size_t unit) const {
  return first_model_place_ + static_cast<Eigen::Index>(model_of_unit_[unit]);
}

Eigen::VectorXd Learning::load_loading(Side side, const Drawn& drawn) const {
  Eigen::VectorXd loading = Eigen::VectorXd::Zero(mean_.size());
  loading[household_place] = loading[side_place(side)] = loading[channel_place(side, drawn.unit)] = 1;
  loading[exponent_place(drawn.unit)] = exponent_loading(stimulators_[drawn.unit].side(side), drawn.load);
  return loading;
}

Eigen::VectorXd Learning::use_loading(Side side, const Drawn& drawn, const cell::Profile& cell) const {
  auto loading = load_loading(side, drawn);
  loading[type_places_.at(cell.id)] = 1;
  return loading;
}

/// Of the mean of log use over what a set has given in each of its phases.
Eigen::VectorXd Learning::mean_use_loading(const Course& course, const cell::Profile& cell, Instant ended) const {
  const auto& phases = course.phases();
  const double given_mAh = course.charge_mAh(ended);
  const auto of = [&](const Phase& phase) {
    return use_loading(course.side(), {phase.unit_index, phase.pacing}, cell);
  };
  if (given_mAh <= 0) return of(phases.front());
  Eigen::VectorXd loading = Eigen::VectorXd::Zero(mean_.size());
  for (std::size_t p = 0; p < phases.size() && phases[p].charge_from_mAh < given_mAh; ++p) {
    const double to_mAh = p + 1 < phases.size() ? std::min(phases[p + 1].charge_from_mAh, given_mAh) : given_mAh;
    loading += (to_mAh - phases[p].charge_from_mAh) / given_mAh * of(phases[p]);
  }
  return loading;
}

double Learning::log_use_apart(Side side, const Drawn& earlier, const Drawn& later) const {
  return (load_loading(side, later) - load_loading(side, earlier)).dot(mean_);
}

Eigen::MatrixXd Learning::loadings(const Course& course, const cell::Profile& cell) const {
  const auto& phase = course.phases().front();
  Eigen::MatrixXd loading = Eigen::MatrixXd::Zero(row_count, mean_.size());
  loading.row(row_use) = use_loading(course.side(), {phase.unit_index, phase.pacing}, cell).transpose();
  loading(row_bias, bias_place(course.side(), phase.unit_index)) = 1;
  // The offset and the tilt of a type are of one cell; a set shows as many as lie in series.
  loading(row_offset, type_places_.at(cell.id) + 1) = phase.unit->cells_in_series;
  loading(row_tilt, type_places_.at(cell.id) + 2) = phase.unit->cells_in_series;
  loading(row_capacity, type_places_.at(cell.id) + 3) = 1;
  return loading;
}

Learning::Known Learning::seen_along(const Eigen::VectorXd& loading) const {
  return {loading.dot(mean_), std::sqrt(std::max(loading.dot(cov_ * loading), 0.0))};
}

SetPrior Learning::prior(const Course& course, const cell::Profile& cell, double stored_log_sd,
                         double days_since) const {
  const auto loading = loadings(course, cell);
  const auto& first = course.phases().front();
  const auto side = course.side();
  SetPrior prior;
  prior.belief.mean = loading * mean_;
  prior.belief.cov = about(loading, covariance_after(days_since));
  prior.belief.cov(row_use, row_use) += square(set_log_sd_);
  // Two cells in series differ from each other: their deviations add as squares.
  const int cells = first.unit->cells_in_series;
  const double own_offset_sd_V = std::sqrt(cells) * cell.spread.curve_sd_V;
  const double own_capacity_sd = own_capacity_log_sd(cell.spread, cells, stored_log_sd);
  prior.belief.cov(row_offset, row_offset) += square(own_offset_sd_V);
  prior.belief.cov(row_tilt, row_tilt) += cells * square(cell.spread.curve_tilt_sd_V) + square(least_tilt_sd_V);
  prior.belief.cov(row_capacity, row_capacity) += square(own_capacity_sd);
  const double together = cell.spread.offset_capacity_correlation * own_offset_sd_V * own_capacity_sd;
  prior.belief.cov(row_offset, row_capacity) += together;
  prior.belief.cov(row_capacity, row_offset) += together;
  prior.gauge_noise_scale = std::sqrt(channels_[channel_index(side, first.unit_index)].noise_variance);
  for (const auto& phase : course.phases()) {
    const auto apart =
        &phase == &first
            ? Known{0, 0}
            : seen_along(use_loading(side, {phase.unit_index, phase.pacing}, cell) - loading.row(row_use).transpose());
    const auto other = gauge_bias(side, phase.unit_index);
    prior.phase_shifts.push_back({apart.mean, apart.sd, other.mean, other.sd});
  }
  return prior;
}

/// What was seen of the five numbers y of a set, y = theirs + noise of variance R, is in how far it moved and narrowed
/// them from their prior's covariance P. With S = P + R, the variance of y before it was seen:
///
///     1/S = 1/P (P - P after) 1/P        1/S (y - mean) = 1/P (mean after - mean)
///
/// (either may be nought along what was not seen). Held against the mean over the set's phases, whose prior covariance
/// is P + D, S is S + D: 1/(S + D) = (1 + 1/S D)^-1 1/S.
void Learning::learn(const Course& course, const cell::Profile& cell, const SetPrior& prior, const SetLesson& lesson,
                     std::optional<Instant> ended) {
  auto loading = loadings(course, cell);
  const bool several_phases = course.phases().size() > 1;
  SetBelief::Matrix apart = SetBelief::Matrix::Zero();
  if (several_phases) {
    const auto before = about(loading, cov_);
    loading.row(row_use) = mean_use_loading(course, cell, ended.value_or(course.to())).transpose();
    apart = about(loading, cov_) - before;
  }
  const SetBelief::Matrix precision = prior.belief.cov.inverse();
  const SetBelief::Vector pull = precision * (lesson.belief.mean - prior.belief.mean);
  const SetBelief::Matrix seen_precision = precision * (prior.belief.cov - lesson.belief.cov) * precision;
  SetBelief::Matrix widened = SetBelief::Matrix::Identity();
  if (several_phases) widened = (SetBelief::Matrix::Identity() + seen_precision * apart).inverse();
  const ByUnknown shared = cov_.lazyProduct(loading.transpose());
  mean_ += shared * (widened * pull);
  const ByUnknown narrowed = shared * (widened * seen_precision);
  cov_.noalias() -= narrowed.lazyProduct(shared.transpose());
  cov_ = 0.5 * (cov_ + cov_.transpose()).eval();
  const auto side = course.side();
  auto& channel = channels_[channel_index(side, course.phases().front().unit_index)];
  // The readings were held against what `prior` took the noise to be.
  const double readings = lesson.gauge.readings;
  const double seen = square(prior.gauge_noise_scale) * (readings + lesson.gauge.excess);
  const double sum = std::max(channel.weight + readings, 1.0);
  channel.noise_variance =
      std::clamp((channel.weight * channel.noise_variance + seen) / sum, least_noise_variance, most_noise_variance);
  channel.weight = std::min(sum, most_readings);
  channel.seen += seen;
  channel.readings += readings;
  if (channel.readings > most_readings) {
    channel.seen *= most_readings / channel.readings;
    channel.readings = most_readings;
  }
  ++sets_seen_[side == Side::left ? 0 : 1];
}

Eigen::MatrixXd Learning::covariance_after(double days) const {
  auto cov = cov_;
  for (Eigen::Index i = 0; i < mean_.size(); ++i) {
    const double added = drift_variance_a_day_[i] * days;
    // Never wider than where it began: a long pause teaches nothing, but forgets no more than everything.
    if (added > 0) cov(i, i) = std::max(cov(i, i), std::min(cov(i, i) + added, first_variance_[i]));
  }
  return cov;
}

void Learning::pass_time(double days) { cov_ = covariance_after(days); }

std::vector<double> Learning::state() const {
  std::vector<double> state(mean_.data(), mean_.data() + mean_.size());
  for (Eigen::Index i = 0; i < cov_.rows(); ++i)
    for (Eigen::Index j = 0; j <= i; ++j) state.push_back(cov_(i, j));
  for (const auto& channel : channels_)
    state.insert(state.end(), {channel.noise_variance, channel.weight, channel.seen, channel.readings});
  for (const int seen : sets_seen_) state.push_back(seen);
  return state;
}

bool Learning::take_up(const std::vector<double>& state) {
  const auto places = static_cast<std::size_t>(mean_.size());
  if (state.size() != places + places * (places + 1) / 2 + 4 * channels_.size() + sets_seen_.size()) return false;
  auto next = state.begin();
  for (Eigen::Index i = 0; i < mean_.size(); ++i) mean_[i] = *next++;
  for (Eigen::Index i = 0; i < cov_.rows(); ++i)
    for (Eigen::Index j = 0; j <= i; ++j) cov_(i, j) = cov_(j, i) = *next++;
  for (auto& channel : channels_) {
    channel.noise_variance = *next++;
    channel.weight = *next++;
    channel.seen = *next++;
    channel.readings = *next++;
  }
  for (int& seen : sets_seen_) seen = static_cast<int>(*next++);
  return true;
}

Learning::Known Learning::gauge_bias(Side side, std::size_t unit) const {
  const auto place = bias_place(side, unit);
  return {mean_[place], std::sqrt(std::max(cov_(place, place), 0.0))};
}

}  // namespace cellarer::life
