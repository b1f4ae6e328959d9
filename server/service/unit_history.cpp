// SPDX-License-Identifier: MIT
#include "server/service/unit_history.hpp"

#include <algorithm>

namespace cellarer::service {

namespace {

using Histories = std::map<std::string, UnitHistory>;

UnitHistory& of(Histories& all, const std::string& serial) {
  auto& history = all[serial];
  history.serial = serial;
  return history;
}

/// A unit in use makes way for the next one that is put into use, and stays in the house as a spare.
void add_home(Histories& all, const HomeOutline& home) {
  std::string in_use;
  for (const auto& stay : home.units) {
    auto& history = of(all, stay.serial);
    history.stimulator = stay.stimulator;
    history.sets += stay.sets;
    history.places.push_back(
        {stay.spare ? UnitPlace::Kind::spare : UnitPlace::Kind::home, home.reference, stay.from, std::nullopt, 0});
    if (stay.spare) continue;
    if (!in_use.empty() && in_use != stay.serial)
      of(all, in_use).places.push_back({UnitPlace::Kind::spare, home.reference, stay.from, std::nullopt, 0});
    in_use = stay.serial;
  }
  for (const auto& fault : home.faults) {
    if (fault.serial.empty()) continue;
    const std::string words = fault.stopped ? "side stopped." : "cells were changed because of a fault.";
    of(all, fault.serial)
        .troubles.push_back(
            {fault.at, home.reference, fault.side, std::string("The ") + name_of(fault.side) + ' ' + words, 0});
  }
}

void add_event(Histories& all, const UnitEvent& event) {
  auto& history = of(all, event.serial);
  if (event.what == UnitEvent::What::workshop)
    history.places.push_back({UnitPlace::Kind::workshop, "", event.at, std::nullopt, event.number});
  if (event.what == UnitEvent::What::withdrawn)
    history.places.push_back({UnitPlace::Kind::withdrawn, "", event.at, std::nullopt, event.number});
  if (event.what != UnitEvent::What::fault && event.what != UnitEvent::What::repaired) return;
  const std::string what = event.what == UnitEvent::What::fault ? "A fault was noted" : "Repaired";
  history.troubles.push_back(
      {event.at, "", std::nullopt, what + (event.note.empty() ? "." : ": " + event.note), event.number});
}

/// In order of time; a second record of the same place continues it.
void finish(UnitHistory& history) {
  const auto by_time = [](const auto& a, const auto& b) { return a.at < b.at; };
  std::stable_sort(history.troubles.begin(), history.troubles.end(), by_time);
  std::stable_sort(history.places.begin(), history.places.end(),
                   [](const auto& a, const auto& b) { return a.from < b.from; });
  std::vector<UnitPlace> places;
  for (const auto& place : history.places) {
    if (!places.empty()) {
      auto& last = places.back();
      if (last.kind == place.kind && last.household == place.household) continue;
      last.to = place.from;
    }
    places.push_back(place);
  }
  history.places = std::move(places);
}

}  // namespace

std::set<std::string> UnitHistory::homes() const {
  std::set<std::string> all;
  for (const auto& place : places) {
    if (!place.household.empty()) all.insert(place.household);
  }
  return all;
}

Histories unit_histories(const ReviewedAgency& agency) {
  Histories all;
  for (const auto& home : agency.homes) add_home(all, home);
  for (const auto& event : agency.bench.unit_events) add_event(all, event);
  const auto add_measured = [&](const Measured& one) {
    auto& history = of(all, one.serial);
    if (history.stimulator.empty()) history.stimulator = one.stimulator;
  };
  for (const auto& value : agency.bench.values) add_measured(value);
  for (const auto& gauge : agency.bench.gauges) add_measured(gauge);
  for (auto& [serial, history] : all) finish(history);
  return all;
}

}  // namespace cellarer::service
