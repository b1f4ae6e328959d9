// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "model/stock/records.hpp"

/// The books of a household's stock: events in, what should be there out.
///
/// Nothing that happened is refused. A use larger than the stock, of a lot nobody received, or from an empty
/// place is booked; the line then reads 0 and the item reads "please count", because the books were wrong.
namespace cellarer::stock {

struct LedgerRules {
  int cells_per_set = 2;  ///< cells are taken a whole set from one line as long as a line holds a whole set; 1 or more
};

/// What became of one lot of one item since the first event, in pieces. Always
/// received = used + discarded + unaccounted + what is left in the lines of that lot.
struct Turnover {
  std::int64_t received = 0, used = 0, discarded = 0;
  /// What the books had and a count did not find, less what was counted or used and no book had: below nought where
  /// more was there than received.
  std::int64_t unaccounted = 0;
};

/// What the books say.
struct Stock {
  /// By item, expiry (none last), lot, place. None is negative, and empty ones are left out; an item of which nothing
  /// is left keeps one empty line, without a lot.
  std::vector<Line> lines;
  std::set<std::string> please_count;  ///< items whose books went wrong since they were last counted
  /// By item and lot (none: not known). Pieces of an unknown lot that a named lot was taken from count as used of the
  /// unknown one.
  std::map<std::pair<std::string, std::optional<std::string>>, Turnover> turnover;
};

/// Folds the events that happened until `as_of`, in the order in which they happened (entries of one moment in the
/// order given), whatever the order in which they were entered.
///
/// - A count sets its line; what happened to that line before no longer matters. It also settles, for that item and
///   place, every line below nought and every use that nothing covered: the shelf was looked at.
/// - A receipt adds. If it names another expiry than the line has, the earlier holds.
/// - A use or a discard with a lot takes from that lot at that place, then from that lot elsewhere, then from pieces
///   of that item whose lot is not known (they may be of that lot). What is still missing is owed by the named line,
///   so that a receipt entered with a late date sets it right; the item reads "please count" until it is counted.
/// - Without a lot, it takes what expires first: at that place, then elsewhere; expired lots last. Cells go a whole
///   set at a time from one line (a set is never of two lots), odd cells only when no whole set is left. What no line
///   covers is owed by nobody: it only asks for a count.
/// - An expiry not given is taken from the same lot of the same item at another place.
/// - Two changes that are "perhaps the same" are both given as events: the lower stock counts.
///
/// Expiry within the books goes by the date in UTC. Sums saturate at the largest `int`.
/// Errors: a negative quantity is the caller's bug (the door refuses it). Complexity: O(events x lines).
Stock stock_after(std::vector<Event> events, Instant as_of, const LedgerRules& rules = {});

}  // namespace cellarer::stock
