// SPDX-License-Identifier: MIT
#include "server/service/profile_effects.hpp"

#include "model/review/profile_effect.hpp"
#include "server/household_key.hpp"
#include "server/profiles/stimulator_file.hpp"
#include "server/service/held_back.hpp"
#include "server/service/review_book.hpp"

namespace cellarer::service {

namespace {

std::vector<review::ProfileEffect> effects_in(const life::Household& life, const Proposal& proposal,
                                              const ProposedProfile& profile, Instant as_of) {
  if (profile.cell) return review::effect_of_profile(life, *profile.cell, as_of);
  // Of a model: the newest unit of it counts for the cells that are in.
  std::string serial = proposal.subject;
  for (const auto& unit : life.units) {
    if (proposal.kind == Proposal::Kind::stimulator && unit.stimulator.id == proposal.subject) serial = unit.serial;
  }
  return review::effect_of_profile(life, serial, *profile.stimulator, as_of);
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
                                  const ProposedProfile& profile, Instant as_of) {
  std::vector<ProfileMove> moves;
  const bool makes_one = profile.cell || profile.stimulator;
  if (!makes_one || !touches(record.life, proposal.kind, proposal.subject)) return moves;
  for (const auto& effect : effects_in(record.life, proposal, profile, as_of)) {
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
  const Instant now = households_.clock().now();
  households_.for_each_of(agency, [&](const std::string& household) {
    if (ending) return;
    try {
      const auto snapshot = households_.snapshot(household);
      if (!touches(snapshot->record.life, proposal.kind, proposal.subject)) return;
      ++effects.of;
      auto moves = moves_in(snapshot->record, proposal, profile, now);
      for (auto& move : moves) move.household = reference_of(household);
      effects.moves.insert(effects.moves.end(), moves.begin(), moves.end());
      ++effects.looked_at;
    } catch (const Problem&) {
      // Erased in the meantime.
    }
  });
  effects.done = !ending;
  return effects;
}

ProfileEffects EffectBook::of(const std::string& agency, const Proposal& proposal) {
  const Place place{agency, proposal.number};
  {
    const std::lock_guard lock(mutex_);
    const auto found = kept_.find(place);
    if (found != kept_.end()) return found->second;
  }
  std::size_t homes = 0;
  households_.for_each_of(agency, [&](const std::string&) { ++homes; });
  if (homes <= small_agency) {
    auto effects = reckon(agency, proposal, std::atomic<bool>{false});
    const std::lock_guard lock(mutex_);
    return kept_[place] = std::move(effects);
  }
  const std::lock_guard lock(mutex_);
  wanted_.emplace(place, proposal);
  return {};
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
      kept_[place] = std::move(effects);
    }
  }
}

}  // namespace cellarer::service
