// SPDX-License-Identifier: MIT
#include "model/rounds/lots.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace cellarer::rounds {

Lots::Lots(const PlanInput& input, const std::string& item) {
  for (const Item& known : input.items)
    if (known.name == item) whole_sets_ = std::lcm(known.pieces_per_pack, known.pieces_per_set) / known.pieces_per_pack;
  const Date never = std::chrono::year{9999} / std::chrono::December / 31;
  left_.assign(input.lots->size(), 0);
  for (std::size_t l = 0; l < input.lots->size(); ++l) {
    const AgencyLot& lot = (*input.lots)[l];
    if (lot.item != item || lot.recalled || lot.packs == 0) continue;
    left_[l] = lot.packs;
    const Date from = std::max(lot.arrives.value_or(input.today), input.today);
    by_expiry_.push_back({static_cast<int>(l), from, lot.expires ? stock::last_usable_date(*lot.expires) : never});
    arrivals_.push_back(from);
  }
  std::sort(arrivals_.begin(), arrivals_.end());
  arrivals_.erase(std::unique(arrivals_.begin(), arrivals_.end()), arrivals_.end());
  const auto& lots = *input.lots;
  const auto name = [&](const Lot& lot) { return lots[static_cast<std::size_t>(lot.number)].lot; };
  std::sort(by_expiry_.begin(), by_expiry_.end(), [&](const Lot& a, const Lot& b) {
    return std::tuple{a.last, name(a), a.from} < std::tuple{b.last, name(b), b.from};
  });
  by_arrival_ = by_expiry_;
  std::stable_sort(by_arrival_.begin(), by_arrival_.end(), [](const Lot& a, const Lot& b) { return a.from > b.from; });
}

std::optional<std::vector<Part>> Lots::parts(int packs, Date date, Date lasting, bool latest_arrival_first) const {
  std::vector<Part> parts;
  for (const Lot& lot : latest_arrival_first ? by_arrival_ : by_expiry_) {
    if (lot.from > date || lot.last < lasting) continue;
    int part = std::min(packs, left_[static_cast<std::size_t>(lot.number)]);
    if (part < packs) part -= part % whole_sets_;
    if (part == 0) continue;
    parts.push_back({lot.number, part});
    packs -= part;
    if (packs == 0) return parts;
  }
  return std::nullopt;
}

void Lots::move(const std::vector<Part>& parts, int sign) {
  for (const Part& part : parts) left_[static_cast<std::size_t>(part.lot)] += sign * part.packs;
}

}  // namespace cellarer::rounds
