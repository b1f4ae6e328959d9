// SPDX-License-Identifier: MIT
#include "model/stock/ledger.hpp"

#include <algorithm>
#include <cassert>
#include <cstdint>
#include <limits>
#include <map>
#include <tuple>

#include "model/stock/dates.hpp"

namespace cellarer::stock {
namespace {

/// What makes a line; compared by item first, so that an item's lines stand together.
struct Key {
  std::string item, place;
  std::optional<std::string> lot;
  bool operator<(const Key& other) const {
    return std::tie(item, place, lot) < std::tie(other.item, other.place, other.lot);
  }
};

/// A line in the books: it may be below nought while something is owed.
struct Balance {
  std::int64_t quantity = 0;
  std::optional<std::chrono::year_month> expires;
};

class Books {
 public:
  explicit Books(const LedgerRules& rules) : rules_(rules) {}

  void enter(const Event& event) {
    const Line& line = event.line;
    assert(line.quantity >= 0);
    const Key key{line.item, line.place, line.lot};
    switch (event.what) {
      case Happened::counted:
        count(key, line);
        break;
      case Happened::received:
        receive(key, line);
        break;
      case Happened::used:
      case Happened::discarded:
        thrown_away_ = event.what == Happened::discarded;
        line.lot ? take_from_lot(key, line.quantity) : take_first_expiring(key, line.quantity, event.at);
        break;
    }
  }

  Stock close() {
    learn_expiries();
    for (auto& [key, balance] : balances_) write_off(key, balance);
    Stock stock;
    stock.turnover = turnover_;
    std::map<std::string, Line> empty;
    for (const auto& [key, balance] : balances_) {
      if (balance.quantity > 0) {
        const auto pieces = std::min<std::int64_t>(balance.quantity, std::numeric_limits<int>::max());
        stock.lines.push_back({key.item, key.lot, static_cast<int>(pieces), balance.expires, key.place});
        empty[key.item].quantity = 1;  // something is left
      } else {
        empty.try_emplace(key.item, Line{key.item, std::nullopt, 0, std::nullopt, key.place});
      }
    }
    for (const auto& [item, line] : empty) {
      if (line.quantity == 0) stock.lines.push_back(line);
    }
    std::stable_sort(stock.lines.begin(), stock.lines.end(), before);
    for (const auto& [item, places] : wrong_at_) {
      if (!places.empty()) stock.please_count.insert(item);
    }
    return stock;
  }

 private:
  using Entry = std::pair<const Key, Balance>;

  static constexpr std::chrono::year_month no_expiry{std::chrono::year::max(), std::chrono::December};

  static bool before(const Line& a, const Line& b) {
    const auto expiry_a = a.expires.value_or(no_expiry), expiry_b = b.expires.value_or(no_expiry);
    return std::tie(a.item, expiry_a, a.lot, a.place) < std::tie(b.item, expiry_b, b.lot, b.place);
  }

  void count(const Key& key, const Line& line) {
    // Whoever counts one lot has looked at the shelf: what was owed there is settled.
    for (auto& [other, balance] : balances_) {
      if (other.item == key.item && other.place == key.place) write_off(other, balance);
    }
    wrong_at_[key.item].erase(key.place);
    Balance& balance = balances_[key];
    turnover(key).unaccounted += balance.quantity - line.quantity;
    balance.quantity = line.quantity;
    if (line.expires) balance.expires = line.expires;
  }

  void receive(const Key& key, const Line& line) {
    Balance& balance = balances_[key];
    if (line.expires && (!balance.expires || balance.quantity <= 0 || *line.expires < *balance.expires)) {
      balance.expires = line.expires;
    }
    balance.quantity += line.quantity;
    turnover(key).received += line.quantity;
  }

  Turnover& turnover(const Key& key) { return turnover_[{key.item, key.lot}]; }

  /// Pieces that left the house.
  void book(const Key& key, std::int64_t pieces) {
    (thrown_away_ ? turnover(key).discarded : turnover(key).used) += pieces;
  }

  /// What is owed was used and never received: nothing is owed any more.
  void write_off(const Key& key, Balance& balance) {
    if (balance.quantity >= 0) return;
    turnover(key).unaccounted += balance.quantity;
    balance.quantity = 0;
  }

  /// Lines of the item that have something, of one lot (or of none), at that place first.
  std::vector<Entry*> lines_of_lot(const Key& key, const std::optional<std::string>& lot) {
    std::vector<Entry*> lines;
    for (Entry& entry : balances_) {
      if (entry.first.item == key.item && entry.first.lot == lot && entry.second.quantity > 0) lines.push_back(&entry);
    }
    std::stable_partition(lines.begin(), lines.end(), [&](const Entry* e) { return e->first.place == key.place; });
    return lines;
  }

  void take(Entry& entry, std::int64_t pieces) {
    entry.second.quantity -= pieces;
    book(entry.first, pieces);
  }

  void take_pieces(const std::vector<Entry*>& lines, std::int64_t& wanted) {
    for (Entry* entry : lines) {
      const std::int64_t taken = std::min(wanted, entry->second.quantity);
      take(*entry, taken);
      wanted -= taken;
    }
  }

  void take_from_lot(const Key& key, std::int64_t wanted) {
    take_pieces(lines_of_lot(key, key.lot), wanted);
    take_pieces(lines_of_lot(key, std::nullopt), wanted);
    if (wanted == 0) return;
    balances_[key].quantity -= wanted;
    book(key, wanted);
    wrong_at_[key.item].insert(key.place);
  }

  void take_first_expiring(const Key& key, std::int64_t wanted, Instant at) {
    learn_expiries();
    const Date date{std::chrono::floor<std::chrono::days>(at)};
    std::vector<Entry*> lines;
    for (Entry& entry : balances_) {
      if (entry.first.item == key.item && entry.second.quantity > 0) lines.push_back(&entry);
    }
    const auto rank = [&](const Entry* entry) {
      const auto expires = entry->second.expires.value_or(no_expiry);
      const bool expired = entry->second.expires && last_usable_date(expires) < date;
      return std::tuple(expired, entry->first.place != key.place, expires, entry->first.lot, entry->first.place);
    };
    std::sort(lines.begin(), lines.end(), [&](const Entry* a, const Entry* b) { return rank(a) < rank(b); });

    if (key.item == cells_item) {
      const std::int64_t set = rules_.cells_per_set;
      for (Entry* entry : lines) {
        const std::int64_t taken = std::min(wanted / set, entry->second.quantity / set) * set;
        take(*entry, taken);
        wanted -= taken;
      }
    }
    take_pieces(lines, wanted);
    if (wanted == 0) return;
    balances_.try_emplace(key);  // so that the item is known, with nothing left
    book(key, wanted);
    turnover(key).unaccounted -= wanted;
    wrong_at_[key.item].insert(key.place);
  }

  /// One lot has one expiry, wherever it lies.
  void learn_expiries() {
    std::map<std::pair<std::string, std::string>, std::chrono::year_month> known;
    for (const auto& [key, balance] : balances_) {
      if (key.lot && balance.expires) known.try_emplace({key.item, *key.lot}, *balance.expires);
    }
    for (auto& [key, balance] : balances_) {
      if (!key.lot || balance.expires) continue;
      const auto found = known.find({key.item, *key.lot});
      if (found != known.end()) balance.expires = found->second;
    }
  }

  LedgerRules rules_;
  bool thrown_away_ = false;  ///< what is taken now is discarded, not used
  std::map<std::pair<std::string, std::optional<std::string>>, Turnover> turnover_;
  std::map<Key, Balance> balances_;
  std::map<std::string, std::set<std::string>> wrong_at_;  ///< item -> places whose books were wrong
};

}  // namespace

Stock stock_after(std::vector<Event> events, Instant as_of, const LedgerRules& rules) {
  assert(rules.cells_per_set >= 1);
  std::stable_sort(events.begin(), events.end(), [](const Event& a, const Event& b) { return a.at < b.at; });
  Books books(rules);
  for (const Event& event : events) {
    if (event.at <= as_of) books.enter(event);
  }
  return books.close();
}

}  // namespace cellarer::stock
