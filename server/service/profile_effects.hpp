// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <chrono>
#include <map>
#include <mutex>
#include <set>

#include "server/service/household_service.hpp"

/// Whose `change by` a proposed profile would move, and how far: two forecasts for each home that it touches.
namespace cellarer::service {

struct ProfileMove {
  std::string household;  ///< bare reference
  Zone zone = nullptr;
  Side side = Side::left;
  std::optional<Instant> before, after;
  bool later = false;  ///< it would be later: such a side keeps its date until its next change
};

struct ProfileEffects {
  bool done = false;
  std::size_t looked_at = 0, of = 0;  ///< homes that it touches
  std::vector<ProfileMove> moves;
};

/// Thread-safe; on a worker. Of a small agency the answer is worked out by whoever asks first, of others beside the
/// service (`work`), and told as it last was until then. Kept for each proposal for a while, since homes go on
/// recording.
class EffectBook {
 public:
  explicit EffectBook(HouseholdService& households) : households_(households) {}

  ProfileEffects of(const std::string& agency, const Proposal& proposal);
  /// Whether it was worked out since the start of the service, so that whoever decides could have seen it; where not,
  /// it is asked for as by `of`.
  bool known(const std::string& agency, const Proposal& proposal);
  /// What is wanted and not yet done; long, ends early when `ending` becomes true.
  void work(const std::atomic<bool>& ending);

 private:
  using Place = std::pair<std::string, std::int64_t>;
  ProfileEffects reckon(const std::string& agency, const Proposal& proposal, const std::atomic<bool>& ending);

  HouseholdService& households_;
  std::mutex mutex_;
  struct Kept {
    ProfileEffects effects;
    std::chrono::steady_clock::time_point outdated_at{};
  };
  std::map<Place, Kept> kept_;
  std::map<Place, Proposal> wanted_;
};

/// The profile that a proposal makes; of the two, the one of its kind. Steps make neither.
struct ProposedProfile {
  std::optional<cell::Profile> cell;
  std::optional<duty::Stimulator> stimulator;
};
ProposedProfile proposed_profile(const Proposal& proposal, const Libraries& libraries);

/// Both sides of a household with it against without.
std::vector<ProfileMove> moves_in(const HouseholdRecord& record, const Proposal& proposal,
                                  const ProposedProfile& profile, const AgencyProfiles& profiles, Instant as_of);

}  // namespace cellarer::service
