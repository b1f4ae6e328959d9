// SPDX-License-Identifier: MIT
#include "tests/bench/rounds/agency.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <random>

#include "model/rounds/calendar.hpp"

namespace cellarer::bench {

using namespace cellarer::rounds;

namespace {

struct Use {
  const char* item;
  double shortest_days, longest_days;  ///< a pack lasts
};
constexpr Use uses[] = {{"cells", 8, 20}, {"tape", 15, 40}, {"dressings", 20, 60}};
constexpr int safety_days = 3, lead_days = 1;

class Inventor {
 public:
  explicit Inventor(const AgencySize& size) : size_(size), random_(size.seed) {}

  PlanInput run() {
    input_.today = std::chrono::year{2026} / 3 / 1;
    input_.horizon_days = size_.weeks * 7;
    input_.items = {{"cells", 16, 2}, {"tape", 5, 1}, {"dressings", 10, 1}};
    calendar();
    for (int h = 0; h < size_.households; ++h) household(h);
    return std::move(input_);
  }

 private:
  double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
  int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }

  void calendar() {
    std::vector<RoundRule> rules;
    for (int r = 0; r < size_.rounds_a_week; ++r) {
      const int area = r % size_.areas, nth = r / size_.areas;
      const unsigned weekday = static_cast<unsigned>(1 + (area + nth * 3) % 5);
      rules.push_back({"area " + std::to_string(area) + " round " + std::to_string(nth),
                       "area " + std::to_string(area),
                       {std::chrono::weekday{weekday}},
                       {},
                       {},
                       size_.households,
                       lead_days});
    }
    input_.rounds = rounds_of(rules, input_.today, stock::days_after(input_.today, input_.horizon_days));
    for (const Round& round : input_.rounds)
      if (round.date >= stock::days_after(input_.today, lead_days)) dates_[round.area].push_back(round.date);
  }

  void household(int h) {
    Household household{"invented-" + std::to_string(h), "area " + std::to_string(whole(0, size_.areas - 1)), {}, {}};
    if (h > 0 && whole(1, 100) <= 3)
      household.area = input_.households.back().area, household.address = stop_key(input_.households.back());
    for (const Use& use : uses) {
      const double pack_days = between(use.shortest_days, use.longest_days);
      const int storage = whole(2, 4);
      const double stocked = between(0.8, storage);
      for (int k = 1; k < 40; ++k) {
        const int by = static_cast<int>(std::floor((stocked + k - 1) * pack_days)) - safety_days;
        if (by >= input_.horizon_days) break;
        need(household, use.item, static_cast<int>(std::ceil((stocked + k - storage) * pack_days)), by);
      }
    }
    input_.households.push_back(std::move(household));
  }

  /// A window without a round is widened to the first one after it.
  void need(Household& household, const char* item, int earliest_day, int by_day) {
    const Date today = input_.today;
    const Date earliest = stock::days_after(today, std::clamp(earliest_day, 0, std::max(by_day, 0)));
    Date by = stock::days_after(today, std::max(by_day, 0));
    const auto& dates = dates_[household.area];
    const auto next = std::lower_bound(dates.begin(), dates.end(), earliest);
    if (next == dates.end()) return;
    by = std::max(by, *next);
    const auto after = [&](int days) { return stock::days_after(by, days); };
    household.needs.push_back(
        {item, 1, earliest, by, {{after(1), 0.01}, {after(3), 0.05}, {after(7), 0.3}, {after(14), 0.9}}, {}});
  }

  const AgencySize& size_;
  std::mt19937_64 random_;
  PlanInput input_;
  std::map<std::string, std::vector<Date>> dates_;
};

}  // namespace

PlanInput invented_agency(const AgencySize& size) { return Inventor(size).run(); }

int area_number(const std::string& area) { return std::stoi(area.substr(area.find(' ') + 1)); }

void limit_stops(PlanInput& input, const std::vector<long>& visits, double room) {
  std::vector<long> rounds(visits.size(), 0);
  for (const Round& round : input.rounds) ++rounds[static_cast<std::size_t>(area_number(round.area))];
  for (Round& round : input.rounds) {
    const auto area = static_cast<std::size_t>(area_number(round.area));
    round.stops = std::max(
        1, static_cast<int>(std::ceil(room * static_cast<double>(visits[area]) / static_cast<double>(rounds[area]))));
  }
}

void add_stock(PlanInput& input, double share, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::map<std::string, int> needed;
  for (const Household& household : input.households)
    for (const Need& need : household.needs) needed[need.item] += need.packs;
  input.lots.emplace();
  for (const auto& [item, packs] : needed) {
    const int lots = 6, each = static_cast<int>(share * packs / lots);
    for (int l = 0; l < lots; ++l) {
      AgencyLot lot{item, item + "-" + std::to_string(l), each, std::chrono::year{2026 + l / 2} / (6 + l % 6), false,
                    {}};
      if (l >= 3) lot.arrives = stock::days_after(input.today, std::uniform_int_distribution<int>(1, 28)(random));
      input.lots->push_back(lot);
    }
  }
}

void confirm_and_disturb(PlanInput& input, const std::vector<ConfirmedStop>& stops, double share, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  input.confirmed = stops;
  for (Household& household : input.households) {
    if (std::uniform_real_distribution<double>(0, 1)(random) >= share) continue;
    const int sooner = std::uniform_int_distribution<int>(1, 7)(random);
    for (Need& need : household.needs) {
      need.deliver_by = std::max(stock::days_after(need.deliver_by, -sooner), stock::days_after(input.today, 7));
      need.earliest = std::min(std::max(input.today, stock::days_after(need.earliest, -sooner)), need.deliver_by);
      for (std::size_t s = 0; s < need.risk.size(); ++s)
        need.risk[s].from = stock::days_after(need.deliver_by, s == 0 ? 1 : s == 1 ? 3 : s == 2 ? 7 : 14);
    }
  }
}

}  // namespace cellarer::bench
