// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>

#include "model/life/set_story.hpp"

namespace cellarer::life {

/// The set that is in a side, kept from one forecast to the next and moved forward by what was read since. The same to
/// the last bit as following it anew (set_story.hpp: follow): where anything has changed that it rests on, be it an
/// older reading taken back, other settings, or what ended sets have taught, it is followed anew; so is one with a
/// second opinion open (an unrecorded change, an unknown depth). Where nothing was read since, what it came to then is
/// told again.
///
/// Cost: the readings since, and comparing the octets of what it rests on (basis.hpp). Memory: some 150 KB. Not for
/// several threads.
class RunningSet {
 public:
  /// Precondition: the stint has not ended. The story holds until the next call.
  const SetStory& up_to(const SetStorySetup& setup, const Stint& stint);

  /// Of the calls so far, how many took in only what was new.
  int went_on() const { return went_on_; }

 private:
  std::optional<SetWalk> walk_;
  SetStory story_;         ///< of the walk as it stands
  std::string basis_;      ///< of all that it rests on
  std::size_t taken_ = 0;  ///< readings
  int went_on_ = 0;
};

}  // namespace cellarer::life
