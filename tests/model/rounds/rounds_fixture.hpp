// SPDX-License-Identifier: MIT
#pragma once
#include <random>
#include <string>

#include "model/rounds/plan.hpp"

/// Small invented agencies for the tests.
namespace cellarer::rounds::testing {

inline const Date monday{std::chrono::year{2026} / 3 / 2};

inline Date day(int days) { return stock::days_after(monday, days); }

inline Need need(int earliest, int deliver_by, std::string item = "cells", int packs = 1) {
  return {std::move(item), packs, day(earliest), day(deliver_by), {}, {}};
}

inline Round round_on(int days, int stops, std::string area = "north", int lead_days = 0) {
  return {area + "-" + std::to_string(days), area, day(days), stops, lead_days};
}

inline Household home(std::string reference, std::vector<Need> needs, std::string area = "north",
                      std::string address = "") {
  return {std::move(reference), std::move(area), std::move(address), std::move(needs)};
}

inline PlanInput agency(std::vector<Household> households, std::vector<Round> rounds, int horizon_days = 56) {
  PlanInput input;
  input.today = monday;
  input.horizon_days = horizon_days;
  input.households = std::move(households);
  input.rounds = std::move(rounds);
  return input;
}

/// What random agencies are drawn with.
struct Draw {
  int addresses = 4, rounds = 5, needs = 3, stops = 2;
  bool stock = false, decisions = true;
  int areas = 1;
};

inline PlanInput random_agency(std::mt19937& random, const Draw& draw) {
  const auto from = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  const int days = draw.rounds * 2;
  PlanInput input = agency({}, {}, days);
  for (int r = 0; r < draw.rounds; ++r) {
    Round round = round_on(from(0, days), from(1, draw.stops), "area-" + std::to_string(from(1, draw.areas)),
                           from(0, 4) == 0 ? from(0, 3) : 0);
    round.id = "round-" + std::to_string(r);
    input.rounds.push_back(round);
  }
  for (int a = 1; a <= draw.areas; ++a)
    input.rounds.push_back({"far-" + std::to_string(a), "area-" + std::to_string(a), day(days + 9), 1, 0});
  for (int h = 0; h < draw.addresses; ++h) {
    Household household = home("h-" + std::to_string(h), {}, "area-" + std::to_string(from(1, draw.areas)));
    if (h > 0 && from(0, 4) == 0)
      household.address = stop_key(input.households.back()), household.area = input.households.back().area;
    for (int n = from(0, draw.needs); n > 0; --n) {
      const int earliest = from(-1, days - 2);
      Need one =
          need(earliest, earliest + from(1, days), from(0, 1) == 0 ? "cells" : "tape", draw.stock ? from(1, 3) : 1);
      if (from(0, 1) == 0) {
        const double soon = from(1, 4) / 10.0, later = soon + from(0, 5) / 10.0;
        one.risk = {{stock::days_after(one.deliver_by, 1), soon},
                    {stock::days_after(one.deliver_by, 1 + from(1, 4)), later}};
      }
      household.needs.push_back(one);
    }
    input.households.push_back(household);
  }
  if (draw.stock) {
    input.lots.emplace();
    for (const char* item : {"cells", "tape"})
      for (int l = from(0, 2); l > 0; --l) {
        AgencyLot lot{item, "lot-" + std::to_string(l), from(0, 3), {}, from(0, 9) == 0, {}};
        if (from(0, 3) == 0) lot.arrives = day(from(1, days));
        if (from(0, 3) == 0) lot.expires = std::chrono::year{2026} / from(2, 3);
        input.lots->push_back(lot);
      }
  }
  if (draw.decisions) {
    for (const Household& household : input.households) {
      const Round& round = input.rounds[static_cast<std::size_t>(from(0, draw.rounds - 1))];
      const bool there = std::any_of(input.confirmed.begin(), input.confirmed.end(),
                                     [&](const ConfirmedStop& stop) { return stop.address == stop_key(household); });
      if (!there && round.area == household.area && from(0, 1) == 0)
        input.confirmed.push_back({stop_key(household), round.id});
    }
    if (from(0, 3) == 0) {
      const Round& round = input.rounds[static_cast<std::size_t>(from(0, draw.rounds - 1))];
      const Household& household = input.households.front();
      if (round.area == household.area) input.pins.push_back({stop_key(household), round.id, false});
    }
  }
  return input;
}

}  // namespace cellarer::rounds::testing
