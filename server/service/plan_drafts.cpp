// SPDX-License-Identifier: MIT
// The draft of a plan: made when it is asked for, kept until something changes; and decisions by hand.
#include <algorithm>
#include <chrono>

#include "server/household_key.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/planner_desk.hpp"

namespace cellarer::service {

namespace {

constexpr std::size_t drafts_kept = 6;
constexpr std::chrono::seconds waits_at_most{3};           ///< for forecasts under way
constexpr std::chrono::seconds foreseen_at_most_every{5};  ///< beside the service

Problem not_computed_yet(const Progress& progress) {
  Problem problem(ProblemCode::no_forecast_yet, "Computed " + std::to_string(progress.computed) + " of " +
                                                    std::to_string(progress.of) +
                                                    " households: a plan needs them all. Ask again in a moment.");
  problem.more["computed"] = progress.computed;
  problem.more["of"] = progress.of;
  return problem;
}

/// What was confirmed before stands, and decisions by hand are entries: a plan that is made anew has them.
Problem of_another_start() {
  Problem problem(ProblemCode::outdated,
                  "This plan was worked out before the service restarted. Nothing of this was stored, and what was "
                  "confirmed or decided before stands: work it out again.");
  problem.more["restarted"] = true;
  return problem;
}

/// What the model says of a change that cannot be, as a problem of the request.
[[noreturn]] void cannot_change(const std::invalid_argument& why) {
  throw Problem(ProblemCode::out_of_range, why.what(), {{"/stop", "out-of-range", why.what()}});
}

}  // namespace

/// Beside the service, when the list has settled and is another than before: it says whom the plan cannot serve
/// without anybody having opened it. A large agency's takes seconds, so it is made seldom against what it takes.
bool PlannerDesk::foresee(Agency& agency) {
  const auto begun = std::chrono::steady_clock::now();
  const auto version = agency.board.version();
  if (version == agency.foreseen || begun < agency.foresee_again || !agency.board.progress().whole()) return false;
  const std::lock_guard one_at_a_time(agency.planning);
  agency.foreseen = version;
  try {
    made(agency);
  } catch (const Problem&) {
    // Whoever opens the plan reads why there is none.
  }
  const auto now = std::chrono::steady_clock::now();
  agency.foresee_again = now + std::max<std::chrono::steady_clock::duration>(foreseen_at_most_every, 9 * (now - begun));
  return true;
}

Draft PlannerDesk::plan(const std::string& name) {
  const auto kept = of(name);
  Agency& agency = *kept;
  const std::lock_guard one_at_a_time(agency.planning);
  agency.board.catch_up(true);
  const auto until = std::chrono::steady_clock::now() + waits_at_most;
  while (!agency.board.progress().whole() && std::chrono::steady_clock::now() < until && agency.board.work()) {
  }
  const auto progress = agency.board.progress();
  if (!progress.whole()) throw not_computed_yet(progress);
  const Draft draft = made(agency);
  if (!agency.drafts.empty() && agency.drafts.front() == draft) return draft;
  agency.drafts.push_front(draft);
  if (agency.drafts.size() > drafts_kept) agency.drafts.pop_back();
  return draft;
}

/// As things stand, or the newest where nothing has changed since. Under the lock of planning.
Draft PlannerDesk::made(Agency& agency) {
  auto draft = std::make_shared<PlanDraft>();
  draft->frame = agency.board.frame();
  draft->households = agency.board.households();
  draft->material = plan_material(draft->households, draft->frame);
  draft->made_from = fingerprint(draft->material.input) + "/" + std::to_string(draft->frame.agency.number);
  if (agency.newest && agency.newest->made_from == draft->made_from) return agency.newest;
  draft->as_of = draft->frame.now;
  const auto begun = std::chrono::steady_clock::now();
  try {
    draft->plan = rounds::plan(draft->material.input);
  } catch (const std::invalid_argument& why) {
    throw Problem(ProblemCode::out_of_range, std::string("Nothing can be planned with this: ") + why.what());
  }
  draft->seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
  draft->tag = drafts_of_ + std::to_string(++drafts_made_);
  agency.board.set_left(draft->plan.left);  // the rows that the plan cannot serve say so
  agency.newest = draft;
  return draft;
}

Draft PlannerDesk::draft(const std::string& name, const std::string& tag) {
  const auto kept = of(name);
  Agency& agency = *kept;
  const std::lock_guard lock(agency.planning);
  for (const Draft& draft : agency.drafts)
    if (draft->tag == tag) return draft;
  if (!tag.starts_with(drafts_of_)) throw of_another_start();
  throw Problem(ProblemCode::outdated,
                "This plan is no longer kept: others were made since, or nobody looked at it for long. Nothing was "
                "changed: read the plan again, "
                "then decide.");
}

rounds::Consequence PlannerDesk::consequence(const std::string& agency, const std::string& tag,
                                             const rounds::Change& change) {
  const auto draft = this->draft(agency, tag);
  try {
    return rounds::consequence_of(draft->material.input, draft->plan, change);
  } catch (const std::invalid_argument& why) {
    cannot_change(why);
  }
}

void PlannerDesk::decide(const Doing& doing, const std::string& tag, const rounds::Change& change) {
  const auto draft = this->draft(doing.agency, tag);
  const auto pins = consequence(doing.agency, tag, change).pins;
  const auto kept = of(doing.agency);
  Agency& agency = *kept;
  const std::lock_guard lock(agency.deciding);
  store::Batch batch;
  for (const auto& pin : pins) {
    for (const DeskHousehold& one : draft->households) {
      if (stop_of(one) != pin.address || one.desk.closed_at) continue;
      batch.entries.push_back(entry_of(doing, household_key(doing.agency, one.household), desk::stop_decision,
                                       {{"round", pin.round}, {"stop", pin.stop}}, batch.entries.size()));
    }
  }
  households_.journal().write_together(batch);
  for (const auto& entry : batch.entries) households_.changes().tell(entry.household);
}

void PlannerDesk::forget_decision(const Doing& doing, const std::string& stop, const std::string& round) {
  const auto kept = of(doing.agency);
  Agency& agency = *kept;
  const std::lock_guard lock(agency.deciding);
  agency.board.catch_up(true);
  store::Batch batch;
  for (const DeskHousehold& one : agency.board.households()) {
    const auto& decisions = one.desk.decisions;
    const bool decided = std::any_of(decisions.begin(), decisions.end(),
                                     [&](const StopDecision& decision) { return decision.round == round; });
    if (stop_of(one) != stop || !decided) continue;
    batch.entries.push_back(entry_of(doing, household_key(doing.agency, one.household), desk::stop_decision,
                                     {{"round", round}, {"stop", nullptr}}, batch.entries.size()));
  }
  if (batch.entries.empty()) {
    throw Problem(ProblemCode::out_of_range, "Nothing was decided of " + stop + " on " + round + ".",
                  {{"/round", "out-of-range", "name a round of which something was decided for this stop"}});
  }
  households_.journal().write_together(batch);
  for (const auto& entry : batch.entries) households_.changes().tell(entry.household);
}

}  // namespace cellarer::service
