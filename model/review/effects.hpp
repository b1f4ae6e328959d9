// SPDX-License-Identifier: MIT
#pragma once
#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <string>
#include <vector>

#include "model/life/agency.hpp"
#include "model/review/set_record.hpp"

namespace cellarer::review {

/// How much log use differs where nothing is wrong: standard deviations.
///
///     log ratio of a set = household + side + unit's channel + cell type + lot + h * exponent + g * bias + drift + set
///
/// Each term is normal about nought and shared by the sets that have its name in common, so a side's baseline is learnt
/// from its earlier sets and its uncertainty counts in all that follows. The defaults are those of the forecast
/// (life/agency.hpp, cell/profile.hpp); `with_agency` takes what an agency's history has taught, but for drift.
struct Spreads {
  double household = 0.05;
  double side = 0.03;
  double channel = 0.06;  ///< of a unit's side: the profile's `relative_sd`
  double cell_type = 0.01;
  double lot = 0.015;
  double set = 0.04;                   ///< one set from the next
  double drift_per_month = 0.001;      ///< random walk of a side: far less than the forecast follows (0.005), because a
                                       ///< drift is what is looked for here, and must not pass for natural
  double gauge_bias_points = 3;        ///< of a unit's channel [points of percent]
  double exponent = 0.2;               ///< of the amplitude's exponent
  double observation_at_least = 0.03;  ///< no reading of a gauge or meter tells a set's use better than this

  static Spreads with_agency(const life::AgencyKnowledge& agency);
};

/// The set's own spread, as the pooled deviation of neighbouring sets of the same side, unit, cell type and settings
/// from each other, less what observation explains:
///
///     set^2 = mean of ((y_i - y_i-1)^2 - s_i^2 - s_i-1^2) / 2        (von Neumann 1941: blind to levels and slow
///     drift)
///
/// shrunk towards `assumed` as if that were known from 20 pairs; never below a quarter of `assumed`.
double pooled_set_spread(const std::vector<const SetRecord*>& records, const Spreads& assumed);
double pooled_set_spread(const std::vector<SetRecord>& records, const Spreads& assumed);

/// A look at one cause alone, made to tell causes apart: on the bench, at the unit, or in the home.
struct Check {
  enum class What {
    bench_current,  ///< the unit's current was measured: ln(measured / profile)
    settings_read,  ///< the settings were read off the unit: ln(current they imply / current of the record)
    hours_noted     ///< the paced hours were noted for some days: ln(noted / recorded)
  };
  What what = What::bench_current;
  std::string household;
  Side side = Side::left;
  Instant at;
  std::string unit;  ///< the serial that was looked at
  double log_ratio = 0;
  double standard_error = 0.02;
};

/// A technician has dealt with, or accepted, whatever befell these sides from `from` to `to`: no finding is made of it
/// again. The sets that went in within that time have a level of their own that tells nothing of others.
struct Settled {
  std::vector<Side> sides;
  Instant from, to;
};

/// One observation of the review: a set's or a check's.
struct Row {
  Instant at;  ///< when the set came out, the check was made
  Instant from;
  std::optional<Check::What> check;  ///< none: a set
  Side side = Side::left;
  std::string unit, stimulator, cell_type, lot;
  double value = 0;  ///< log ratio
  double standard_error = 0;
  double bias_loading = 0, exponent_loading = 0;
  std::size_t record = 0;  ///< index into the records or the checks it was made from
};

/// Rows of one household by time: sets that were observed, and checks.
std::vector<Row> rows_of(const std::vector<SetRecord>& records, const std::vector<Check>& checks,
                         const Spreads& spreads);

/// A household's rows, made independent: z = L^-1 y with L L' the covariance of the effects above. If nothing is wrong
/// the z are independent standard normal numbers, each the standardised surprise of a row given those before it: what
/// charts plot (chart.hpp), with the baseline's uncertainty counted exactly.
class Whitened {
 public:
  Whitened(const std::vector<Row>& rows, const Spreads& spreads, const std::vector<Settled>& settled = {});

  Eigen::Index size() const { return surprise_.size(); }
  const Eigen::VectorXd& surprise() const { return surprise_; }
  /// What row i was expected to be, given the rows before it: mean and standard deviation (spread and observation).
  double expected(Eigen::Index i) const { return value_[i] - surprise_[i] * sd(i); }
  double sd(Eigen::Index i) const { return lower_(i, i); }
  /// A pattern (what a unit of some fault adds to each row) in the independent coordinates.
  Eigen::VectorXd whiten(const Eigen::VectorXd& pattern) const;

 private:
  Eigen::MatrixXd lower_;
  Eigen::VectorXd value_, surprise_;
};

/// Natural covariance of two rows of one household; `start` is when the household's first set went in.
double covariance(const Row& a, const Row& b, const Spreads& spreads, Instant start);

}  // namespace cellarer::review
