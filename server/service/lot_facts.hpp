// SPDX-License-Identifier: MIT
#pragma once
#include <compare>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "server/json/field.hpp"
#include "server/service/agency_journal.hpp"

/// What an agency says of lots: which are called back, and which numbers were written wrongly.
///
/// Both are entries of the agency's journal, of which the newest about a lot holds; so both are undone by a further
/// one, and nothing in any household's entries is rewritten. Homes are folded with the result (fold.hpp): a corrected
/// number is read as the right one wherever it was ever written, and a recalled lot is not usable from the recall on.
namespace cellarer::service {

namespace agency_kind {
inline constexpr const char* lot_recall = "lot_recall";          ///< {"item", "lot", "recalled": bool, "why"?}
inline constexpr const char* lot_correction = "lot_correction";  ///< {"item", "from", "to": text or null}
}  // namespace agency_kind

/// A lot of one item, by its number.
struct LotName {
  std::string item, lot;
  auto operator<=>(const LotName&) const = default;  // NOLINT(modernize-use-nullptr): version 14 means the generated 0
};

struct LotRecall {
  std::int64_t entry = 0;
  Instant at;  ///< when it was recorded
  std::string why, account;
  bool operator==(const LotRecall&) const = default;
};

struct LotCorrection {
  std::int64_t entry = 0;
  std::string to;
  Instant at;
  std::string account;
  bool operator==(const LotCorrection&) const = default;
};

struct LotFacts {
  std::map<LotName, LotRecall> recalled;       ///< by the right number
  std::map<LotName, LotCorrection> corrected;  ///< by the wrong number

  /// The number that is meant: itself where nobody corrected it. Corrections of a correction are followed.
  std::string right(const LotName& lot) const;
  /// Null where that lot, by its right number, is not called back.
  const LotRecall* recall_of(const LotName& lot) const;
  /// The wrong numbers that lead to this right one.
  std::vector<std::string> written_as(const LotName& lot) const;

  bool operator==(const LotFacts&) const = default;
};

/// What is asked of a lot: {"item"?, "lot", "why"?}, to be called back or no longer.
struct AskedRecall {
  LotName lot;
  std::optional<std::string> why;
};
AskedRecall read_recall(const json::Field& body);

/// {"item"?, "from", "to": the right number, or null to take a correction back}
struct AskedCorrection {
  LotName from;
  std::optional<std::string> to;
};
AskedCorrection read_lot_correction(const json::Field& body);

/// Folds an agency's entries, in the order in which they were recorded; those of other kinds are passed over.
LotFacts lot_facts(const std::vector<store::StoredAgencyEntry>& entries);

/// Never null.
using Lots = std::shared_ptr<const LotFacts>;

/// Keeps them folded. The same pointer comes back as long as nothing was said of lots, whatever else the agency
/// recorded: who keeps something made with it need only compare pointers. Thread-safe.
class LotBook {
 public:
  explicit LotBook(AgencyJournal& journal) : journal_(journal) {}
  Lots of(const std::string& agency);

 private:
  struct Kept {
    std::int64_t version = -1;
    Lots lots;
  };
  AgencyJournal& journal_;
  std::mutex mutex_;
  std::map<std::string, Kept> kept_;
};

}  // namespace cellarer::service
