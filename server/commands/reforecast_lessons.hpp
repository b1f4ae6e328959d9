// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "server/service/household_record.hpp"

namespace cellarer::commands {

/// What a home's ended sets have taught, as text that a reforecast keeps beside the home's forecast, so that the next
/// one follows only the sets that ended since. It says what it rests on by a digest, under a key that is the program's
/// own digest: what another build has learned, or what rests on other records, is learned anew. From any thread.
class ReforecastLessons {
 public:
  ReforecastLessons();

  /// The home's next forecast begins with them, where they still hold; answers whether they do.
  bool take_up(const std::string& text, const service::HouseholdRecord& record, Instant as_of) const;
  /// What it has learned by its last forecast, which was as of then; `before`: what it took up, if anything. Empty
  /// where it has learned nothing.
  std::string text_of(const service::HouseholdRecord& record, Instant as_of, const std::string& before) const;

 private:
  std::string key_;
};

}  // namespace cellarer::commands
