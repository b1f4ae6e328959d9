// SPDX-License-Identifier: MIT
#include "model/review/household_review.hpp"

#include <date/date.h>

#include <algorithm>
#include <cmath>

#include "model/review/next_steps.hpp"

namespace cellarer::review {

namespace {

constexpr int most_findings_at_once = 3;
/// How much greater the odds must be for each finding that is there already.
constexpr double beside_another = 5;

std::string name_of_scope(Scope scope) {
  return scope == Scope::both ? "both" : name_of(scope == Scope::left ? Side::left : Side::right);
}

/// The stories and what is known of each after every row.
struct Weighed {
  std::vector<Row> rows;
  std::vector<Hypothesis> stories;
  std::vector<std::vector<Sums>> sums;  ///< by story and row: of the rows up to it

  double log_weight(std::size_t story, std::size_t row) const {
    const auto& one = stories[story];
    return one.log_prior + log_bayes_factor(sums[story][row], one.size);
  }
  bool begun(std::size_t story, std::size_t row) const { return sums[story][row].square > 0; }
};

Weighed weigh(const HouseholdHistory& history, const std::vector<Settled>& settled, const ReviewOptions& options) {
  Weighed weighed;
  weighed.rows = rows_of(history.records, history.checks, options.spreads);
  if (weighed.rows.empty()) return weighed;
  const Whitened whitened(weighed.rows, options.spreads, settled);
  weighed.stories = hypotheses(weighed.rows, history.records, options.priors);
  weighed.sums.reserve(weighed.stories.size());
  for (const auto& story : weighed.stories) {
    const auto pattern = whitened.whiten(story.pattern);
    auto& sums = weighed.sums.emplace_back();
    Sums sum;
    for (Eigen::Index i = 0; i < whitened.size(); ++i) {
      sum += {pattern[i] * pattern[i], pattern[i] * whitened.surprise()[i]};
      sums.push_back(sum);
    }
  }
  return weighed;
}

/// ln odds that something lasting is wrong, after this row.
double log_odds(const Weighed& weighed, std::size_t row) {
  std::vector<double> faults, nothing{0};
  for (std::size_t s = 0; s < weighed.stories.size(); ++s) {
    if (!weighed.begun(s, row)) continue;
    (weighed.stories[s].shape == Shape::one_set ? nothing : faults).push_back(weighed.log_weight(s, row));
  }
  return log_sum(faults) - log_sum(nothing);
}

struct Episode {
  std::size_t raised, last;
  bool ended;
};

/// The first time, from a row on, that the evidence is enough, and the last row at which it still is something.
std::optional<Episode> first_episode(const Weighed& weighed, const ReviewOptions& options,
                                     const std::vector<Finding>& earlier) {
  const auto& limits = options.limits;
  // A further fault beside one that stands is less likely than a first, and comes after it.
  const double enough =
      std::log(limits.raise_odds_at(options.spreads)) + static_cast<double>(earlier.size()) * std::log(beside_another);
  std::optional<Episode> episode;
  for (std::size_t row = 0; row < weighed.rows.size(); ++row) {
    const double odds = log_odds(weighed, row);
    if (!episode && odds >= enough && (earlier.empty() || weighed.rows[row].at > earlier.back().raised_at))
      episode = Episode{row, row, false};
    if (!episode) continue;
    if (odds < std::log(limits.end_odds)) {
      episode->ended = true;
      break;
    }
    episode->last = row;
  }
  return episode;
}

/// A story's evidence together with what other households say of its lot or unit.
double log_weight_everywhere(const Weighed& weighed, std::size_t s, std::size_t row, const OutsideEvidence& outside) {
  const auto& story = weighed.stories[s];
  const auto& elsewhere = story.cause == Cause::cells ? outside.lots : outside.units;
  const bool shared = story.cause == Cause::cells || story.cause == Cause::unit;
  const auto found = elsewhere.find(story.subject);
  if (!shared || story.subject.empty() || found == elsewhere.end()) return weighed.log_weight(s, row);
  // Their natural spread is in both sums.
  const auto& others = found->second[static_cast<std::size_t>(story.scope)];
  return story.log_prior + log_bayes_factor(weighed.sums[s][row] + others, story.size);
}

Kind kind_of(const std::optional<Cause>& named, Shape shape) {
  if (named == Cause::cells) return Kind::bad_lot;
  if (named == Cause::unit) return Kind::unit_eats_cells;
  if (named == Cause::gauge) return Kind::gauge_disagrees;
  if (named == Cause::settings) return Kind::settings_not_up_to_date;
  if (named == Cause::habit) return Kind::paced_longer;
  return shape == Shape::drift ? Kind::drift : shape == Shape::level ? Kind::asymmetry : Kind::step;
}

/// Means of the sets before and of those touched, and the size of the story that explains most.
void describe(Finding& finding, const Weighed& weighed, std::size_t best, std::size_t row) {
  const auto& story = weighed.stories[best];
  const auto& first = weighed.rows[static_cast<std::size_t>(story.start)];
  finding.since = first.from;
  double loading = 0;
  for (std::size_t i = 0; i <= row; ++i) {
    const auto& one = weighed.rows[i];
    if (one.check || !in_scope(one.side, finding.scope)) continue;
    const double amount = story.pattern[static_cast<Eigen::Index>(i)];
    if (amount != 0) {
      ++finding.sets_touched;
      finding.mean_touched += one.value;
      loading = std::abs(amount) > std::abs(loading) ? amount : loading;
    } else if (static_cast<Eigen::Index>(i) < story.start) {
      ++finding.sets_before;
      finding.mean_before += one.value;
    }
  }
  if (finding.sets_touched > 0) finding.mean_touched /= finding.sets_touched;
  if (finding.sets_before > 0) finding.mean_before /= finding.sets_before;
  const auto size = posterior_size(weighed.sums[best][row], story.size);
  finding.change = {size.mean * loading, size.sd * std::abs(loading)};
}

Finding finding_of(const HouseholdHistory& history, const Weighed& weighed, const Episode& episode,
                   const OutsideEvidence& outside, const ReviewOptions& options) {
  Finding finding;
  finding.household = history.household;
  finding.raised_at = weighed.rows[episode.raised].at;
  const std::size_t row = episode.last;
  if (episode.ended) finding.ended_at = weighed.rows[row].at;
  std::vector<double> here, everywhere;
  std::vector<std::size_t> which;
  std::array<double, 3> scope_at_raise{};
  for (std::size_t s = 0; s < weighed.stories.size(); ++s) {
    if (weighed.stories[s].shape == Shape::one_set || !weighed.begun(s, row)) continue;
    which.push_back(s);
    everywhere.push_back(log_weight_everywhere(weighed, s, row, outside));
  }
  const double odds = std::exp(std::clamp(log_odds(weighed, row), -50.0, 50.0));
  finding.probability = odds / (1 + odds);
  const double total = log_sum(everywhere);
  std::array<double, 4> shapes{};
  std::size_t best = which.front();
  double best_weight = 0;
  std::vector<Outcome> outcomes;
  std::map<std::string, double> subjects;
  for (std::size_t i = 0; i < which.size(); ++i) {
    const auto& story = weighed.stories[which[i]];
    const double weight = std::exp(everywhere[i] - total);
    finding.causes[static_cast<std::size_t>(story.cause)] += weight;
    shapes[static_cast<std::size_t>(story.shape)] += weight;
    if (weight > best_weight) best_weight = weight, best = which[i];
    if (weighed.begun(which[i], episode.raised))
      scope_at_raise[static_cast<std::size_t>(story.scope)] +=
          std::exp(std::clamp(weighed.log_weight(which[i], episode.raised), -50.0, 50.0));
    outcomes.push_back(outcome_of(story, weighed.sums[which[i]][row], weight));
  }
  // The id holds what it concerned when it was raised; what it concerns now may be known better.
  const auto raised_scope = std::max_element(scope_at_raise.begin(), scope_at_raise.end()) - scope_at_raise.begin();
  finding.id =
      finding_id("use", history.household + '/' + name_of_scope(static_cast<Scope>(raised_scope)), finding.raised_at);
  finding.scope = weighed.stories[best].scope;
  const auto cause = std::max_element(finding.causes.begin(), finding.causes.end());
  if (*cause >= options.limits.name_at) finding.named = static_cast<Cause>(cause - finding.causes.begin());
  if (finding.named == Cause::cells || finding.named == Cause::unit || finding.named == Cause::gauge)
    finding.subject = weighed.stories[best].subject;
  const auto shape = std::max_element(shapes.begin(), shapes.end()) - shapes.begin();
  finding.kind = kind_of(finding.named, static_cast<Shape>(shape));
  describe(finding, weighed, best, row);
  if (!finding.named) finding.next = next_steps(outcomes, options.spreads);
  return finding;
}

}  // namespace

std::string finding_id(const std::string& family, const std::string& subject, Instant raised_at) {
  return family + '/' + subject + '/' + date::format("%FT%TZ", raised_at);
}

std::vector<Finding> review_household(const HouseholdHistory& history, const OutsideEvidence& outside,
                                      const ReviewOptions& options) {
  std::vector<Finding> findings;
  auto settled = history.settled;
  for (int i = 0; i < most_findings_at_once; ++i) {
    const auto weighed = weigh(history, settled, options);
    if (weighed.rows.empty()) break;
    const auto episode = first_episode(weighed, options, findings);
    if (!episode) break;
    findings.push_back(finding_of(history, weighed, *episode, outside, options));
    const auto& found = findings.back();
    const auto sides = found.scope == Scope::both   ? std::vector<Side>{Side::left, Side::right}
                       : found.scope == Scope::left ? std::vector<Side>{Side::left}
                                                    : std::vector<Side>{Side::right};
    settled.push_back({sides, found.since, found.ended_at.value_or(Instant::max())});
  }
  return findings;
}

}  // namespace cellarer::review
