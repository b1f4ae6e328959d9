// SPDX-License-Identifier: MIT
#include "server/service/profile_effects.hpp"

#include "model/review/profile_effect.hpp"
#include "server/household_key.hpp"
#include "server/profiles/stimulator_file.hpp"
#include "server/service/held_back.hpp"
#include "server/service/review_book.hpp"

namespace cellarer::service {

namespace {

using Steady = std::chrono::steady_clock;

/// Homes go on recording while a proposal waits.
constexpr std::chrono::seconds kept_of_small_agency{20};
constexpr std::chrono::minutes kept_of_large_agency{30};

/// The unit whose profile it would be. Of a model: the newest of it that has no values of its own, which go before
/// those of the model; none: no unit's.
std::optional<std::string> unit_of(const life::Household& life, const Proposal& proposal,
                                   const AgencyProfiles& profiles, Instant as_of) {
  std::optional<std::string> serial;
  for (const auto& unit : life.units) {
    const bool of_it = proposal.kind == Proposal::Kind::unit
                           ? unit.serial == proposal.subject
                           : unit.stimulator.id == proposal.subject &&
                                 profiles.in_force(Proposal::Kind::unit, unit.serial, as_of) == nullptr;
    if (of_it) serial = unit.serial;
  }
  return serial;
}

bool is_touched(const life::Household& life, const Proposal& proposal, const AgencyProfiles& profiles, Instant as_of) {
  return touches(life, proposal.kind, proposal.subject) &&
         (proposal.kind == Proposal::Kind::cell || unit_of(life, proposal, profiles, as_of));
}

std::vector<review::ProfileEffect> effects_in(const life::Household& life, const Proposal& proposal,
                                              const ProposedProfile& profile, const AgencyProfiles& profiles,
                                              Instant as_of) {
  if (profile.cell) return review::effect_of_profile(life, *profile.cell, as_of);
  return review::effect_of_profile(life, unit_of(life, proposal, profiles, as_of).value(), *profile.stimulator, as_of);
}

}  // namespace

ProposedProfile proposed_profile(const Proposal& proposal, const Libraries& libraries) {
  ProposedProfile profile;
  const auto& document = proposal.body.at("document");
  if (proposal.kind == Proposal::Kind::cell) profile.cell = libraries.fit(document, "");
  if (proposal.kind == Proposal::Kind::unit || proposal.kind == Proposal::Kind::stimulator)
    profile.stimulator = read_stimulator(json::Field(document, ""));
  return profile;
}

std::vector<ProfileMove> moves_in(const HouseholdRecord& record, const Proposal& proposal,
                                  const ProposedProfile& profile, const AgencyProfiles& profiles, Instant as_of) {
  std::vector<ProfileMove> moves;
  const bool makes_one = profile.cell || profile.stimulator;
  if (!makes_one || !is_touched(record.life, proposal, profiles, as_of)) return moves;
  for (const auto& effect : effects_in(record.life, proposal, profile, profiles, as_of)) {
    if (!effect.moves()) continue;
    moves.push_back({record.reference, record.life.zone, effect.side, effect.change_by_before, effect.change_by_after,
                     effect.later()});
  }
  return moves;
}

ProfileEffects EffectBook::reckon(const std::string& agency, const Proposal& proposal,
                                  const std::atomic<bool>& ending) {
  ProfileEffects effects;
  const auto profile = proposed_profile(proposal, households_.libraries());
  const auto profiles = households_.profiles().of(agency);
  const Instant now = households_.clock().now();
  households_.for_each_of(agency, [&](const std::string& household) {
    if (ending) return;
    const auto snapshot = households_.snapshot(household);
    if (snapshot->record.closed_since) return;  // it has no date that could move
    if (!is_touched(snapshot->record.life, proposal, *profiles, now)) return;
    ++effects.of;
    auto moves = moves_in(snapshot->record, proposal, profile, *profiles, now);
    for (auto& move : moves) move.household = reference_of(household);
    effects.moves.insert(effects.moves.end(), moves.begin(), moves.end());
    ++effects.looked_at;
  });
  effects.done = !ending;
  return effects;
}

ProfileEffects EffectBook::of(const std::string& agency, const Proposal& proposal) {
  const Place place{agency, proposal.number};
  {
    const std::lock_guard lock(mutex_);
    const auto found = kept_.find(place);
    if (found != kept_.end() && Steady::now() < found->second.outdated_at) return found->second.effects;
  }
  std::size_t homes = 0;
  households_.for_each_of(agency, [&](const std::string&) { ++homes; });
  if (homes <= small_agency) {
    auto effects = reckon(agency, proposal, std::atomic<bool>{false});
    const std::lock_guard lock(mutex_);
    kept_[place] = {effects, Steady::now() + kept_of_small_agency};
    return effects;
  }
  const std::lock_guard lock(mutex_);
  wanted_.emplace(place, proposal);
  return kept_[place].effects;
}

bool EffectBook::known(const std::string& agency, const Proposal& proposal) {
  {
    const std::lock_guard lock(mutex_);
    const auto found = kept_.find({agency, proposal.number});
    if (found != kept_.end() && found->second.effects.done) return true;
  }
  return of(agency, proposal).done;
}

void EffectBook::work(const std::atomic<bool>& ending) {
  for (;;) {
    std::map<Place, Proposal> wanted;
    {
      const std::lock_guard lock(mutex_);
      wanted.swap(wanted_);
    }
    if (wanted.empty() || ending) return;
    for (const auto& [place, proposal] : wanted) {
      auto effects = reckon(place.first, proposal, ending);
      if (!effects.done) return;
      const std::lock_guard lock(mutex_);
      kept_[place] = {std::move(effects), Steady::now() + kept_of_large_agency};
    }
  }
}

}  // namespace cellarer::service
