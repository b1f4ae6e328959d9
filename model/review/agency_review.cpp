// SPDX-License-Identifier: MIT
#include "model/review/agency_review.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "model/review/early_changes.hpp"
#include "model/review/shared_effects.hpp"

namespace cellarer::review {

namespace {

/// How one kind of what homes share is judged.
struct Judged {
  SharedKind shared;
  Kind kind;
  Cause cause;
  double prior, raise_odds;
};

/// ln(share times Bayes factor) of each way to move the effects by a size, over "as such things vary".
std::vector<double> weigh_ways(const Judged& judged, const JointSums& sums, const Size& fault) {
  const auto with_noise = with_natural(sums, judged.shared.natural);
  std::vector<double> weights;
  for (const auto& way : judged.shared.ways)
    weights.push_back(std::log(way.share) + log_bayes_factor(with_noise.along(way.moves), fault));
  return weights;
}

Size mirrored(const Size& size) { return {-size.mean, size.sd}; }

/// How probable it is that its sets use more than they should, or less: a lot that holds more than its type is none
/// that is short, however wide the sizes of faults are.
struct Odds {
  std::vector<double> ways;  ///< of using more, as `weigh_ways` has them
  double log_more, log_less;

  /// ln of the odds that more is used.
  double log_bad() const { return log_more - std::log1p(std::exp(std::min(log_less, 700.0))); }
  double bad() const { return 1 / (1 + std::exp(-std::clamp(log_bad(), -50.0, 50.0))); }
  double less() const {
    return 1 / (1 + std::exp(-std::clamp(log_less - std::log1p(std::exp(std::min(log_more, 700.0))), -50.0, 50.0)));
  }
};

Odds odds_of(const Judged& judged, const JointSums& sums, const Priors& priors) {
  const double log_prior = std::log(judged.prior / (1 - judged.prior));
  auto ways = weigh_ways(judged, sums, priors.fault);
  const double log_more = log_prior + log_sum(ways);
  const double log_less =
      log_prior + std::log((1 - priors.more) / priors.more) + log_sum(weigh_ways(judged, sums, mirrored(priors.fault)));
  return {std::move(ways), log_more, log_less};
}

/// What is believed of the effects' mean over the sets of `way`, without a fault and with one.
Size believed(const SharedKind& shared, const JointSums& sums, const FaultWay& way, const std::optional<Size>& fault) {
  JointBelief before{JointSums::Product::Zero(shared.natural.rows()), shared.natural};
  if (fault) {
    before.mean = fault->mean * way.moves;
    before.cov += fault->sd * fault->sd * way.moves * way.moves.transpose();
  }
  return posterior_effects(sums, before).weighed(way.weights);
}

/// Mean and standard deviation of two stories, the first of probability `first`.
Size mixed(const Size& one, const Size& other, double first) {
  const double mean = first * one.mean + (1 - first) * other.mean;
  const double apart = one.mean - other.mean;
  const double variance =
      first * one.sd * one.sd + (1 - first) * other.sd * other.sd + first * (1 - first) * apart * apart;
  return {mean, std::sqrt(variance)};
}

/// What is said of a lot or a unit by all its homes' rows.
void say(Pooled& pooled, const Judged& judged, const JointSums& sums, const ReviewOptions& options) {
  const auto& ways = judged.shared.ways;
  const auto odds = odds_of(judged, sums, options.priors);
  const auto likeliest = std::max_element(odds.ways.begin(), odds.ways.end()) - odds.ways.begin();
  const auto& way = ways[static_cast<std::size_t>(likeliest)];
  pooled.scope = way.scope;
  pooled.if_bad = believed(judged.shared, sums, way, options.priors.shared_size);
  pooled.bad = odds.bad();
  pooled.stands = pooled.raised_at &&
                  odds.log_bad() >= std::log(judged.raise_odds) - std::log(options.limits.shared_raise_over_end);
  // Told of all its sets, whichever side the fault may be on.
  const auto& all_sets = ways.front();
  const auto as_all = believed(judged.shared, sums, all_sets, std::nullopt);
  const auto by_size = [&](const Size& size) { return believed(judged.shared, sums, all_sets, size); };
  const double less = odds.less();
  const auto not_less =
      mixed(by_size(options.priors.shared_size), as_all, std::min(pooled.bad / (1 - less + 1e-300), 1.0));
  const auto told = mixed(by_size(mirrored(options.priors.shared_size)), not_less, less);
  pooled.pooled = told.mean;
  pooled.pooled_sd = told.sd;
  const auto raw = with_natural(sums, judged.shared.natural).along(all_sets.moves);
  if (raw.square <= 0) return;
  pooled.raw = raw.product / raw.square;
  pooled.raw_se = 1 / std::sqrt(raw.square);
}

/// Takes the rows of all homes in by order of time, into `sums`.
Pooled pool(const std::string& subject, std::vector<SharedRow> rows, const Judged& judged, SharedSums& sums,
            const Histories& households, const ReviewOptions& options) {
  const auto& limits = options.limits;
  std::stable_sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
  Pooled pooled;
  pooled.subject = subject;
  std::set<std::size_t> homes;
  for (const auto& row : rows) {
    sums.add(row);
    if (!row.set) continue;
    if (pooled.sets++ == 0) pooled.first = row.at;
    pooled.last = row.at;
    homes.insert(row.household);
    const bool enough = pooled.sets >= limits.shared_sets && static_cast<int>(homes.size()) >= limits.shared_households;
    if (pooled.raised_at || !enough) continue;
    const double odds = odds_of(judged, sums.total(), options.priors).log_bad();
    if (odds >= std::log(judged.raise_odds)) pooled.raised_at = row.at;
  }
  pooled.households = static_cast<int>(homes.size());
  for (const auto home : homes) pooled.homes.push_back(households[home]->household);
  say(pooled, judged, sums.total(), options);
  return pooled;
}

Finding finding_of(const Pooled& pooled, const Judged& judged, Instant since) {
  Finding finding;
  finding.kind = judged.kind;
  finding.scope = pooled.scope;
  finding.subject = pooled.subject;
  finding.raised_at = *pooled.raised_at;
  finding.id = finding_id(judged.cause == Cause::cells ? "lot" : "unit", pooled.subject, finding.raised_at);
  finding.since = since;
  finding.probability = pooled.bad;
  finding.change = pooled.if_bad;
  finding.sets_touched = pooled.sets;
  finding.households = pooled.households;
  finding.mean_touched = pooled.raw;
  finding.causes[static_cast<std::size_t>(judged.cause)] = 1;
  finding.named = judged.cause;
  return finding;
}

/// Lots, or units, of all homes.
class SharedReview {
 public:
  explicit SharedReview(Judged judged) : judged_(std::move(judged)) {}
  SharedReview(const SharedReview&) = delete;
  SharedReview& operator=(const SharedReview&) = delete;

  void take(const std::vector<Row>& rows, const Whitened& whitened, std::size_t household) {
    collect(rows_, judged_.shared, rows, whitened, household);
  }

  std::vector<Pooled> pool_all(const Histories& households, const ReviewOptions& options,
                               std::vector<Finding>& findings) {
    std::vector<Pooled> all;
    for (const auto& [subject, rows] : rows_) {
      auto& sums = sums_.try_emplace(subject, judged_.shared).first->second;
      const auto& pooled = all.emplace_back(pool(subject, rows, judged_, sums, households, options));
      if (!pooled.stands) continue;
      const auto first =
          std::min_element(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.from < b.from; });
      findings.push_back(finding_of(pooled, judged_, first->from));
    }
    std::stable_sort(all.begin(), all.end(), [](const Pooled& a, const Pooled& b) { return a.bad > b.bad; });
    return all;
  }

  /// What all households but one say of what that one has too.
  std::map<std::string, SumsByScope> elsewhere(std::size_t household) const {
    std::map<std::string, SumsByScope> found;
    for (const auto& [subject, sums] : sums_) {
      if (!sums.is_in(household) || sums.only_in(household)) continue;
      const auto others = with_natural(sums.elsewhere(household), judged_.shared.natural);
      for (const auto& way : judged_.shared.ways)
        found[subject][static_cast<std::size_t>(way.scope)] = others.along(way.moves);
    }
    return found;
  }

 private:
  Judged judged_;
  SharedRows rows_;
  std::map<std::string, SharedSums> sums_;
};

/// A home's share in what is found of a lot or a unit as a whole is no finding of its own.
bool told_already(const std::vector<Finding>& findings, const Finding& of_home) {
  return !of_home.subject.empty() && std::any_of(findings.begin(), findings.end(), [&](const Finding& one) {
    return one.household.empty() && one.kind == of_home.kind && one.subject == of_home.subject;
  });
}

Judged lots_judged(const ReviewOptions& options) {
  const auto& limits = options.limits;
  return {lots_as_shared(options.spreads), Kind::bad_lot, Cause::cells, limits.lot_prior, limits.lot_raise_odds};
}

}  // namespace

std::vector<Pooled> review_lots(const Histories& households, const ReviewOptions& options) {
  SharedReview lots(lots_judged(options));
  for (std::size_t h = 0; h < households.size(); ++h) {
    const auto rows = rows_of(households[h]->records, households[h]->checks, options.spreads);
    if (!rows.empty()) lots.take(rows, Whitened(rows, options.spreads, households[h]->settled), h);
  }
  std::vector<Finding> findings;
  return lots.pool_all(households, options, findings);
}

AgencyReview review_agency(const Histories& households, const ReviewOptions& options) {
  AgencyReview review;
  const auto& limits = options.limits;
  SharedReview lots(lots_judged(options));
  SharedReview units({units_as_shared(options.spreads), Kind::unit_eats_cells, Cause::unit, limits.unit_prior,
                      limits.unit_raise_odds});
  for (std::size_t h = 0; h < households.size(); ++h) {
    const auto rows = rows_of(households[h]->records, households[h]->checks, options.spreads);
    if (rows.empty()) continue;
    const Whitened whitened(rows, options.spreads, households[h]->settled);
    lots.take(rows, whitened, h);
    units.take(rows, whitened, h);
  }
  review.lots = lots.pool_all(households, options, review.findings);
  review.units = units.pool_all(households, options, review.findings);
  for (std::size_t h = 0; h < households.size(); ++h) {
    const OutsideEvidence outside{lots.elsewhere(h), units.elsewhere(h)};
    for (auto& finding : review_household(*households[h], outside, options)) {
      if (!told_already(review.findings, finding)) review.findings.push_back(std::move(finding));
    }
    if (auto early = changes_too_early(*households[h], options)) review.findings.push_back(std::move(*early));
  }
  std::stable_sort(review.findings.begin(), review.findings.end(),
                   [](const Finding& a, const Finding& b) { return a.raised_at < b.raised_at; });
  return review;
}

}  // namespace cellarer::review
