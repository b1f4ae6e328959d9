// SPDX-License-Identifier: MIT
#include "server/service/stock_ledger.hpp"

namespace cellarer::service {

namespace {

using Lot = std::pair<std::string, std::string>;  ///< item, lot

LedgerLine& line_of(std::map<Lot, LedgerLine>& lines, const store::ErasedStock& stock) {
  LedgerLine& line = lines[{stock.item, stock.lot}];
  line.item = stock.item;
  line.lot = stock.lot;
  line.received += stock.received;
  line.used += stock.used;
  line.discarded += stock.discarded;
  line.unaccounted += stock.unaccounted;
  return line;
}

}  // namespace

std::vector<store::ErasedStock> left_by(const stock::Stock& stock) {
  std::map<Lot, store::ErasedStock> lots;
  const auto of = [&](const std::string& item, const std::optional<std::string>& lot) -> store::ErasedStock& {
    auto& one = lots[{item, lot.value_or("")}];
    one.item = item;
    one.lot = lot.value_or("");
    return one;
  };
  for (const auto& [key, turnover] : stock.turnover) {
    auto& one = of(key.first, key.second);
    one.received += turnover.received;
    one.used += turnover.used;
    one.discarded += turnover.discarded;
    one.unaccounted += turnover.unaccounted;
  }
  for (const auto& line : stock.lines) {
    if (line.quantity > 0) of(line.item, line.lot).left_behind += line.quantity;
  }
  std::vector<store::ErasedStock> all;
  all.reserve(lots.size());
  for (auto& [key, one] : lots) all.push_back(std::move(one));
  return all;
}

std::vector<LedgerLine> stock_ledger(HouseholdService& households, const std::string& agency) {
  std::map<Lot, LedgerLine> lines;
  for (const auto& stock : households.erased_stock(agency)) line_of(lines, stock).left_with_erased += stock.left_behind;
  households.for_each_of(agency, [&](const std::string& household) {
    for (const auto& stock : left_by(households.home_lots_of(household)->books))
      line_of(lines, stock).in_homes += stock.left_behind;
  });
  std::vector<LedgerLine> all;
  all.reserve(lines.size());
  for (auto& [key, line] : lines) all.push_back(std::move(line));
  return all;
}

}  // namespace cellarer::service
