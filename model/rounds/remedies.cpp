// SPDX-License-Identifier: MIT
#include "model/rounds/remedies.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include "model/rounds/grid.hpp"
#include "model/rounds/visits.hpp"

namespace cellarer::rounds {

namespace {

class Finder {
 public:
  Finder(const PlanInput& input, const Plan& plan, const std::string& key, const RemedyRules& rules)
      : input_(input), key_(key), rules_(rules) {
    for (std::size_t h = 0; h < input.households.size(); ++h)
      if (stop_key(input.households[h]) == key) households_.push_back(static_cast<int>(h));
    for (const PlannedStop& stop : plan.stops) {
      ++load_[stop.round];
      if (stop.address == key) now_.insert(stop.round);
    }
    for (const Left& left : plan.left) {
      if (left.address != key) continue;
      left_.push_back(&left);
      risk_now_ += std::llround(left.risk * 1e6);
      if (std::find(left.reasons.begin(), left.reasons.end(), Why::stock_short) != left.reasons.end())
        out_.insert(&left);
    }
  }

  std::vector<Remedy> run() {
    if (left_.empty() || households_.empty()) return {};
    area_ = input_.households[static_cast<std::size_t>(households_.front())].area;
    if (out_.size() < left_.size()) rounds();
    for (const Left* left : out_) packs(*left);
    std::stable_sort(found_.begin(), found_.end(), [](const Remedy& a, const Remedy& b) {
      return std::tuple{std::llround(a.risk_after * 1e6), a.extra_visits, a.kind, a.date, a.round} <
             std::tuple{std::llround(b.risk_after * 1e6), b.extra_visits, b.kind, b.date, b.round};
    });
    if (found_.size() > static_cast<std::size_t>(rules_.most)) found_.resize(static_cast<std::size_t>(rules_.most));
    return std::move(found_);
  }

 private:
  /// Inside some window that is missed, of what is not missed for want of packs.
  bool would_help(Date date) const {
    return std::any_of(left_.begin(), left_.end(), [&](const Left* left) {
      const int h = *std::find_if(households_.begin(), households_.end(), [&](int one) {
        return input_.households[static_cast<std::size_t>(one)].reference == left->household;
      });
      const Need& need = input_.households[static_cast<std::size_t>(h)].needs[static_cast<std::size_t>(left->need)];
      return !out_.count(left) && date >= need.earliest && (!left->late_on || date < *left->late_on);
    });
  }

  void rounds() {
    std::set<Date> taken;
    for (const Round& round : input_.rounds) {
      if (round.area == area_) taken.insert(round.date);
      if (round.date > last_date(input_) || round.date < stock::days_after(input_.today, round.lead_days) ||
          !would_help(round.date))
        continue;
      const bool full = load_[round.id] >= round.stops;
      if (ruled_out(round.id) || (round.area == area_ ? !full : full)) continue;
      consider({round.area == area_ ? RemedyKind::extra_stop : RemedyKind::other_areas_round,
                round.id,
                round.area,
                round.date,
                {},
                0,
                0,
                0},
               round);
    }
    for (int day = rules_.extra_round_lead; day <= input_.horizon_days; ++day) {
      const Date date = stock::days_after(input_.today, day);
      if (taken.count(date) || !would_help(date)) continue;
      consider({RemedyKind::extra_round, {}, area_, date, {}, 0, 0, 0}, {"", area_, date, 1, 0});
    }
  }

  bool ruled_out(const std::string& round) const {
    return std::any_of(input_.pins.begin(), input_.pins.end(),
                       [&](const Pin& pin) { return pin.address == key_ && pin.round == round && !pin.stop; });
  }
  bool forced(const std::string& round) const {
    return std::any_of(input_.pins.begin(), input_.pins.end(),
                       [&](const Pin& pin) { return pin.address == key_ && pin.round == round && pin.stop; });
  }

  /// The address's best visits with this round too, on rounds with room and those where it is a stop already.
  void consider(Remedy remedy, const Round& extra) {
    std::vector<Column> columns;
    std::vector<std::pair<Date, const Round*>> open;
    for (const Round& round : input_.rounds) {
      const auto load = load_.find(round.id);
      const bool room = load == load_.end() || load->second < round.stops;
      const bool possible = round.area == area_ && room && round.date <= last_date(input_) &&
                            round.date >= stock::days_after(input_.today, round.lead_days) && !ruled_out(round.id);
      if (round.id != extra.id && (now_.count(round.id) || possible)) open.emplace_back(round.date, &round);
    }
    open.emplace_back(extra.date, &extra);
    std::sort(open.begin(), open.end());
    Address address{key_, area_, households_, {}, {}, {}, {}};
    std::vector<char> must;
    for (const auto& [date, round] : open) {
      address.columns.push_back(static_cast<int>(columns.size()));
      address.kept.push_back(0);
      must.push_back(forced(round->id) ? 1 : 0);
      columns.push_back({round->area, date, {}, 1, false});
    }
    Shortage shortage;  // what is short of packs stays so
    for (const Left* left : out_)
      for (int h : households_)
        if (input_.households[static_cast<std::size_t>(h)].reference == left->household)
          shortage[{h, left->need}] = std::nullopt;
    std::int64_t risk = lay_out(address, must, columns, input_, shortage);
    const auto visits = cheapest_alone(address);
    risk += visits.cost.risk_ppm;
    if (risk >= risk_now_) return;
    remedy.extra_visits = static_cast<int>(visits.at.size()) - static_cast<int>(now_.size());
    remedy.risk_after = static_cast<double>(risk) / 1e6;
    found_.push_back(std::move(remedy));
  }

  /// In time for the last visit within its window, or for a visit more.
  void packs(const Left& left) {
    const auto at = std::find_if(households_.begin(), households_.end(), [&](int h) {
      return input_.households[static_cast<std::size_t>(h)].reference == left.household;
    });
    const Need& need = input_.households[static_cast<std::size_t>(*at)].needs[static_cast<std::size_t>(left.need)];
    std::optional<Date> visited, possible;
    for (const Round& round : input_.rounds) {
      if (round.date < need.earliest || round.date > need.deliver_by || round.date > last_date(input_)) continue;
      const auto load = load_.find(round.id);
      const bool room = (load == load_.end() || load->second < round.stops) && !ruled_out(round.id);
      if (now_.count(round.id))
        visited = std::max(visited.value_or(round.date), round.date);
      else if (round.area == area_ && room && round.date >= stock::days_after(input_.today, round.lead_days))
        possible = std::max(possible.value_or(round.date), round.date);
    }
    if (!visited && !possible) return;
    const double rest = std::max(0.0, static_cast<double>(risk_now_) / 1e6 - left.risk);
    found_.push_back({RemedyKind::more_packs,
                      {},
                      area_,
                      visited ? *visited : *possible,
                      left.item,
                      left.packs,
                      visited ? 0 : 1,
                      rest});
  }

  const PlanInput& input_;
  const std::string& key_;
  const RemedyRules& rules_;
  std::string area_;
  std::vector<int> households_;
  std::map<std::string, int> load_;
  std::set<std::string> now_;
  std::vector<const Left*> left_;
  std::set<const Left*> out_;  ///< of these, for want of packs
  std::int64_t risk_now_ = 0;
  std::vector<Remedy> found_;
};

}  // namespace

std::vector<Remedy> remedies_for(const PlanInput& input, const Plan& plan, const std::string& address,
                                 const RemedyRules& rules) {
  return Finder(input, plan, address, rules).run();
}

}  // namespace cellarer::rounds
