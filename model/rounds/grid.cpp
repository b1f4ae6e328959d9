// SPDX-License-Identifier: MIT
#include "model/rounds/grid.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>
#include <unordered_map>

namespace cellarer::rounds {

namespace {

/// Which round each confirmed stop and pin speaks of, by the round's number.
struct Said {
  std::map<std::string, std::vector<int>> confirmed;  ///< by address
  std::map<std::string, std::map<int, bool>> pins;    ///< by address and round
  std::vector<int> confirmed_on;                      ///< stops, by round
};

Said said_of(const PlanInput& input) {
  std::unordered_map<std::string, int> number;
  for (std::size_t r = 0; r < input.rounds.size(); ++r) number.emplace(input.rounds[r].id, static_cast<int>(r));
  Said said;
  said.confirmed_on.assign(input.rounds.size(), 0);
  for (const ConfirmedStop& stop : input.confirmed) {
    const int round = number.at(stop.round);
    said.confirmed[stop.address].push_back(round);
    ++said.confirmed_on[static_cast<std::size_t>(round)];
  }
  for (const Pin& pin : input.pins) said.pins[pin.address][number.at(pin.round)] = pin.stop;
  return said;
}

/// Rounds with decisions of their own, or with more confirmed stops than they may have, are not put together with
/// others.
std::vector<Column> columns_of(const PlanInput& input, const Said& said) {
  std::set<int> apart;
  for (const auto& [address, pins] : said.pins)
    for (const auto& [round, stop] : pins) apart.insert(round);
  std::map<std::tuple<Date, std::string, bool, int>, Column> columns;
  for (std::size_t r = 0; r < input.rounds.size(); ++r) {
    const Round& round = input.rounds[r];
    if (round.date > last_date(input)) continue;
    const int number = static_cast<int>(r);
    const bool alone = apart.count(number) || said.confirmed_on[r] > round.stops;
    const bool locked = round.date < stock::days_after(input.today, round.lead_days);
    Column& column = columns[{round.date, round.area, locked, alone ? number : -1}];
    column.area = round.area, column.date = round.date, column.locked = locked;
    column.rounds.push_back(number);
    column.stops += round.stops;
  }
  std::vector<Column> list;
  list.reserve(columns.size());
  for (auto& [key, column] : columns) list.push_back(std::move(column));
  return list;
}

int times_in(const std::vector<int>& rounds, const std::vector<int>& among) {
  return static_cast<int>(std::count_if(rounds.begin(), rounds.end(), [&](int round) {
    return std::find(among.begin(), among.end(), round) != among.end();
  }));
}

void choose_columns(Address& address, std::vector<char>& forced, const std::vector<Column>& columns, const Said& said) {
  const auto confirmed = said.confirmed.find(address.key);
  const auto pins = said.pins.find(address.key);
  for (std::size_t c = 0; c < columns.size(); ++c) {
    const Column& column = columns[c];
    const int kept = confirmed == said.confirmed.end() ? 0 : times_in(confirmed->second, column.rounds);
    bool open = column.area == address.area && (!column.locked || kept > 0);
    bool must = false;
    if (pins != said.pins.end()) {
      const auto pin = pins->second.find(column.rounds.front());
      if (pin != pins->second.end()) open = must = pin->second;
    }
    if (!open) continue;
    address.columns.push_back(static_cast<int>(c));
    address.kept.push_back(std::min(kept, 1));
    forced.push_back(must ? 1 : 0);
  }
}

}  // namespace

Date last_date(const PlanInput& input) { return stock::days_after(input.today, input.horizon_days); }

std::int64_t risk_ppm(const Need& need, Date date) {
  if (date <= need.deliver_by) return 0;
  if (need.risk.empty()) return 1'000'000;
  double risk = 0;
  for (const RiskStep& step : need.risk) {
    if (step.from > date) break;
    risk = step.probability;
  }
  return std::llround(risk * 1e6);
}

std::int64_t lay_out(Address& address, const std::vector<char>& forced, const std::vector<Column>& columns,
                     const PlanInput& input, const Shortage& shortage) {
  const int size = address.size();
  const Date end = last_date(input);
  const auto date_at = [&](int v) {
    return columns[static_cast<std::size_t>(address.columns[static_cast<std::size_t>(v)])].date;
  };
  address.gaps.assign(static_cast<std::size_t>(size + 1) * static_cast<std::size_t>(size + 1), 0);
  const auto gap = [&](int v, int w) -> std::int64_t& {
    return address
        .gaps[static_cast<std::size_t>(v + 1) * static_cast<std::size_t>(size + 1) + static_cast<std::size_t>(w)];
  };
  address.needs.clear();
  std::int64_t left_out = 0;
  for (int h : address.households) {
    const auto& needs = input.households[static_cast<std::size_t>(h)].needs;
    for (std::size_t n = 0; n < needs.size(); ++n) {
      const Need& need = needs[n];
      Date earliest = std::max(need.earliest, input.today);
      // What is not met by the end of the horizon and is due only later is no loss: the next plan sees it.
      const std::int64_t never = risk_ppm(need, end);
      if (const auto out = shortage.find({h, static_cast<int>(n)}); out != shortage.end()) {
        if (!out->second) {
          left_out += never;
          continue;
        }
        earliest = std::max(earliest, *out->second);
      }
      if (never == 0) continue;
      GridNeed place{h, static_cast<int>(n), 0, -1, never};
      while (place.first < size && date_at(place.first) < earliest) ++place.first;
      place.last = place.first - 1;
      while (place.last + 1 < size && date_at(place.last + 1) <= need.deliver_by) ++place.last;
      for (int w = place.last + 1; w < size; ++w) gap(place.first - 1, w) += risk_ppm(need, date_at(w));
      gap(place.first - 1, size) += never;
      address.needs.push_back(place);
    }
  }
  for (int v = 0; v < size; ++v) {
    if (!forced[static_cast<std::size_t>(v)]) continue;
    for (int w = v + 1; w <= size; ++w) gap(v - 1, w) += forced_ppm;
  }
  for (int v = size - 2; v >= -1; --v)
    for (int w = v + 2; w <= size; ++w) gap(v, w) += gap(v + 1, w);
  return left_out;
}

Grid grid_of(const PlanInput& input, const Shortage& shortage) {
  const Said said = said_of(input);
  Grid grid;
  grid.columns = columns_of(input, said);
  grid.confirmed = static_cast<std::int64_t>(input.confirmed.size());
  std::map<std::string, std::size_t> at;
  for (std::size_t h = 0; h < input.households.size(); ++h) {
    const Household& household = input.households[h];
    const auto [place, added] = at.emplace(stop_key(household), grid.addresses.size());
    if (added) grid.addresses.push_back({stop_key(household), household.area, {}, {}, {}, {}, {}});
    grid.addresses[place->second].households.push_back(static_cast<int>(h));
  }
  for (Address& address : grid.addresses) {
    std::vector<char> forced;
    choose_columns(address, forced, grid.columns, said);
    grid.left_out_ppm += lay_out(address, forced, grid.columns, input, shortage);
  }
  return grid;
}

Cost cost_of(const Address& address, const std::vector<int>& visits) {
  Cost cost;
  int last = -1;
  for (int visit : visits) {
    cost = cost + Cost{address.gap(last, visit), 0, 0} + address.stop(visit);
    last = visit;
  }
  cost.risk_ppm += address.gap(last, address.size());
  return cost;
}

}  // namespace cellarer::rounds
