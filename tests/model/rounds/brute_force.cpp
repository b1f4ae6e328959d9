// SPDX-License-Identifier: MIT
#include "tests/model/rounds/brute_force.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace cellarer::rounds::testing {

namespace {

struct Wanted {
  const Need* need = nullptr;
  std::string address;
};

class Everything {
 public:
  explicit Everything(const PlanInput& input) : input_(input), left_(input.rounds.size()) {
    end_ = stock::days_after(input.today, input.horizon_days);
    for (const Household& household : input.households) {
      const std::string key = stop_key(household);
      if (std::find(addresses_.begin(), addresses_.end(), key) == addresses_.end())
        addresses_.push_back(key), areas_.push_back(household.area);
      for (const Need& need : household.needs) wanted_.push_back({&need, key});
    }
    for (std::size_t r = 0; r < input.rounds.size(); ++r) left_[r] = input.rounds[r].stops;
  }

  Merit run() {
    choose(0, 0, {0, 0, static_cast<long>(input_.confirmed.size())});
    return best_;
  }

 private:
  bool may_stop(const std::string& address, const std::string& area, const Round& round) const {
    for (const Pin& pin : input_.pins)
      if (pin.address == address && pin.round == round.id) return pin.stop;
    const bool in_time = round.date >= stock::days_after(input_.today, round.lead_days);
    return round.area == area && round.date <= end_ && (in_time || confirmed(address, round.id));
  }
  bool confirmed(const std::string& address, const std::string& round) const {
    return std::any_of(input_.confirmed.begin(), input_.confirmed.end(),
                       [&](const ConfirmedStop& stop) { return stop.address == address && stop.round == round; });
  }

  /// Without stock what an address risks is its own affair, and a plan that is already worse need not be finished.
  void choose(std::size_t a, std::size_t r, Merit so_far) {
    if (!input_.lots &&
        std::tuple{std::get<0>(so_far), std::get<1>(so_far)} > std::tuple{std::get<0>(best_), std::get<1>(best_)})
      return;
    if (a == addresses_.size()) return weigh(so_far);
    if (r == input_.rounds.size()) {
      if (!input_.lots) std::get<0>(so_far) += own_risk(addresses_[a]);
      return choose(a + 1, 0, so_far);
    }
    choose(a, r + 1, so_far);
    if (left_[r] == 0 || !may_stop(addresses_[a], areas_[a], input_.rounds[r])) return;
    --left_[r];
    made_.emplace(addresses_[a], r);
    std::get<1>(so_far) += 1;
    std::get<2>(so_far) -= confirmed(addresses_[a], input_.rounds[r].id) ? 1 : 0;
    choose(a, r + 1, so_far);
    made_.erase({addresses_[a], r});
    ++left_[r];
  }

  long own_risk(const std::string& address) const {
    long sum = 0;
    for (const Wanted& wanted : wanted_) {
      if (wanted.address != address) continue;
      long least = risk(*wanted.need, end_);
      for (const auto& [at, r] : made_)
        if (at == address && input_.rounds[r].date >= wanted.need->earliest)
          least = std::min(least, risk(*wanted.need, input_.rounds[r].date));
      sum += least;
    }
    return sum;
  }

  static long risk(const Need& need, Date date) {
    if (date <= need.deliver_by) return 0;
    if (need.risk.empty()) return 1000000;
    double value = 0;
    for (const RiskStep& step : need.risk)
      if (step.from <= date) value = step.probability;
    return std::lround(value * 1e6);
  }

  void weigh(Merit merit) {
    if (input_.lots) {
      std::vector<int> packs;
      for (const AgencyLot& lot : *input_.lots) packs.push_back(lot.recalled ? 0 : lot.packs);
      least_ = -1;
      meet(0, 0, packs);
      std::get<0>(merit) = least_;
    }
    best_ = std::min(best_, merit);
  }

  /// Each need at each visit from its earliest date on, or not; with stock from every lot that will do, in every split.
  void meet(std::size_t i, long so_far, std::vector<int>& packs) {
    if (least_ >= 0 && so_far >= least_) return;
    if (i == wanted_.size()) {
      least_ = so_far;
      return;
    }
    const Need& need = *wanted_[i].need;
    for (const auto& [address, r] : made_) {
      const Date date = input_.rounds[r].date;
      if (address != wanted_[i].address || date < need.earliest) continue;
      split(i, so_far + risk(need, date), date, need.packs, 0, packs);
    }
    meet(i + 1, so_far + risk(need, end_), packs);
  }

  void split(std::size_t i, long so_far, Date date, int wanted, std::size_t l, std::vector<int>& packs) {
    if (wanted == 0) return meet(i + 1, so_far, packs);
    if (l == packs.size()) return;
    const AgencyLot& lot = (*input_.lots)[l];
    const bool usable = lot.item == wanted_[i].need->item && (!lot.arrives || *lot.arrives <= date) &&
                        (!lot.expires || stock::last_usable_date(*lot.expires) >= date);
    for (int part = usable ? std::min(wanted, packs[l]) : 0; part >= 0; --part) {
      packs[l] -= part;
      split(i, so_far, date, wanted - part, l + 1, packs);
      packs[l] += part;
    }
  }

  const PlanInput& input_;
  Date end_;
  std::vector<std::string> addresses_, areas_;
  std::vector<Wanted> wanted_;
  std::vector<int> left_;
  std::set<std::pair<std::string, std::size_t>> made_;
  long least_ = -1;
  Merit best_{1L << 60, 1L << 60, 0};
};

}  // namespace

Merit best_of_all_plans(const PlanInput& input) { return Everything(input).run(); }

}  // namespace cellarer::rounds::testing
