// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "model/life/learning.hpp"
#include "model/life/load_table.hpp"
#include "model/life/stint.hpp"

namespace cellarer::life {

class RunningSet;

/// What a household's ended sets have taught, kept from one forecast to the next, so that only those are followed that
/// have ended since. The same to the last bit as learning all of them anew (lessons.hpp): where anything that a lesson
/// rests on has changed, be it an old entry taken back or a profile approved, it is all learned anew.
///
/// Cost: with nothing new, comparing what is kept with what is given, member by member; beside that, following each set
/// that has ended since. Not for several threads.
class Learned {
 public:
  Learned();
  Learned(Learned&&) noexcept;
  Learned& operator=(Learned&&) noexcept;
  ~Learned();

  /// `sides`: the stints of the left and the right side.
  const Learning& up_to(const Household& household, const std::array<std::vector<Stint>, 2>& sides, LoadTables& tables);

  /// When the last set that could teach ended: until then time has passed in what was learned.
  const std::optional<Instant>& last_lesson() const { return last_lesson_; }

  /// Whether the set that is in each side is kept too, as it was followed (running_set.hpp): some 240 KB a home.
  void keep_running(bool kept);
  RunningSet* running(Side side);

  /// What was learned, to be kept elsewhere: of how many ended sets, when the last one that taught ended, and what came
  /// of it.
  struct Kept {
    std::size_t sets = 0;
    std::optional<Instant> last_lesson;
    std::vector<double> state;
  };
  std::optional<Kept> kept() const;
  /// The octets of all that lessons of the first so many ended sets rest on; none where fewer have ended. Whoever keeps
  /// lessons keeps a digest of them too, and takes lessons up again only where it is still the same.
  static std::optional<std::string> basis(const Household& household, const std::array<std::vector<Stint>, 2>& sides,
                                          std::size_t sets);
  /// Takes up what was kept of the same basis. Answers whether it could.
  bool take_up(const Household& household, const std::array<std::vector<Stint>, 2>& sides, const Kept& kept);

 private:
  struct Ended {
    Side side;
    Stint stint;
    bool operator==(const Ended&) const = default;
  };
  /// What lessons rest on beside the sets.
  using Ground = std::tuple<Zone, std::vector<UnitInUse>, std::vector<duty::Settings>, std::vector<duty::PacedInstead>,
                            std::vector<duty::PacedMore>, std::vector<duty::SwitchedOff>, std::vector<Stay>,
                            std::vector<HospitalStay>, std::map<std::string, cell::Profile>,
                            std::optional<cell::Profile>, AgencyKnowledge>;

  std::optional<Ground> ground_;
  std::vector<Ended> sets_;  ///< that have been learned from, by when they ended
  std::optional<Learning> learning_;
  std::optional<Instant> last_lesson_;
  std::unique_ptr<std::array<RunningSet, 2>> running_;  ///< none: not kept

  bool holds_for(const Household& household, const std::vector<std::pair<Side, const Stint*>>& ended) const;
};

}  // namespace cellarer::life
