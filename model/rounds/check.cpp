// SPDX-License-Identifier: MIT
#include "model/rounds/check.hpp"

#include <date/date.h>

#include <map>
#include <set>
#include <tuple>

namespace cellarer::rounds {

namespace {

class Checker {
 public:
  explicit Checker(const PlanInput& input) : input_(input) {}

  std::vector<Problem> run() {
    frame();
    rounds();
    households();
    items();
    lots();
    stops();
    return std::move(problems_);
  }

 private:
  void say(std::string where, std::string what, std::string remedy) {
    problems_.push_back({std::move(where), std::move(what), std::move(remedy)});
  }

  void frame() {
    if (!input_.today.ok()) say("the plan", "today is not a date", "give a date of the calendar");
    if (input_.horizon_days < 1 || input_.horizon_days > 366)
      say("the plan", "its horizon is " + std::to_string(input_.horizon_days) + " days", "give 1 to 366 days");
  }

  void rounds() {
    for (const Round& round : input_.rounds) {
      const std::string where = "round " + (round.id.empty() ? "on " + iso(round.date) : round.id);
      if (round.id.empty()) say(where, "it has no name", "give every round a name of its own");
      if (!rounds_.emplace(round.id, &round).second)
        say(where, "it is there twice", "give every round a name of its own");
      if (round.area.empty()) say(where, "it has no area", "name the area that it serves");
      areas_.insert(round.area);
      if (!round.date.ok()) {
        say(where, "its date is not one of the calendar", "give a date such as 2026-03-02");
      } else if (round.date < input_.today) {
        say(where, "its date " + iso(round.date) + " is before today, " + iso(input_.today),
            "leave it out, or give a date to come");
      }
      if (round.stops < 1)
        say(where, "its limit is " + std::to_string(round.stops) + " stops",
            "give at least 1 stop, or leave the round out");
      if (round.lead_days < 0)
        say(where, "its lead time is " + std::to_string(round.lead_days) + " days", "give 0 days or more");
    }
  }

  void households() {
    std::set<std::string> references;
    for (std::size_t h = 0; h < input_.households.size(); ++h) {
      const Household& household = input_.households[h];
      const std::string where = household.reference.empty() ? "household in row " + std::to_string(h + 1)
                                                            : "household " + household.reference;
      if (household.reference.empty()) {
        say(where, "it has no reference", "give the agency's reference");
        continue;  // without a name neither its address nor its being there twice can be told
      }
      if (!references.insert(household.reference).second) say(where, "it is there twice", "leave one of them in");
      if (household.area.empty()) {
        say(where, "it has no area", "give one of the areas that rounds serve");
      } else if (!areas_.count(household.area)) {
        say(where, "no round serves its area \"" + household.area + "\"",
            "give one of the areas that rounds serve, or add a round there");
      }
      const auto [at, first] = addresses_.emplace(stop_key(household), household.area);
      if (!first && at->second != household.area)
        say(where,
            "its address " + stop_key(household) + " is in \"" + at->second + "\" for another household, here in \"" +
                household.area + "\"",
            "give one address one area");
      for (std::size_t n = 0; n < household.needs.size(); ++n) need(where, n, household.needs[n]);
    }
  }

  void need(const std::string& household, std::size_t n, const Need& need) {
    const std::string where = household + ", need " + std::to_string(n + 1) + " (" + need.item + ")";
    if (need.item.empty()) say(where, "it names no item", "name what is needed");
    if (need.packs < 1) say(where, "its quantity is " + std::to_string(need.packs) + " packs", "give 1 pack or more");
    if (!need.earliest.ok() || !need.deliver_by.ok()) {
      say(where, "its window has no date of the calendar", "give dates such as 2026-03-02");
    } else if (need.deliver_by < need.earliest) {
      say(where, "its window ends on " + iso(need.deliver_by) + ", before it begins on " + iso(need.earliest),
          "give a deliver-by date that is not before the earliest");
    }
    for (std::size_t i = 0; i < need.risk.size(); ++i) {
      const RiskStep& step = need.risk[i];
      if (!(step.probability >= 0 && step.probability <= 1))
        say(where, "a risk is not within 0 to 1", "give probabilities");
      if (i > 0 && (step.from <= need.risk[i - 1].from || step.probability < need.risk[i - 1].probability))
        say(where, "its risk falls or its dates go back at " + iso(step.from),
            "order the steps by date, no risk below the one before");
    }
  }

  void items() {
    std::set<std::string> names;
    for (const Item& item : input_.items) {
      if (!names.insert(item.name).second) say("item " + item.name, "it is there twice", "leave one of them in");
      if (item.pieces_per_pack < 1 || item.pieces_per_set < 1)
        say("item " + item.name, "a pack or a set of it has no pieces", "give 1 piece or more");
    }
  }

  void lots() {
    if (!input_.lots) return;
    std::set<std::tuple<std::string, std::string, std::optional<Date>>> rows;  // what is on order of a lot stands apart
    for (const AgencyLot& lot : *input_.lots) {
      const std::string where = "lot " + lot.lot + " of " + lot.item;
      if (lot.item.empty()) say(where, "it names no item", "name what the lot holds");
      if (!rows.emplace(lot.item, lot.lot, lot.arrives).second)
        say(where, "it is there twice", "add its packs up in one line");
      if (lot.packs < 0)
        say(where, "it has " + std::to_string(lot.packs) + " packs",
            "give 0 packs or more; count it if the books went below");
    }
  }

  void stops() {
    std::set<std::pair<std::string, std::string>> confirmed, pinned;
    std::map<std::string, int> decided;
    for (const ConfirmedStop& stop : input_.confirmed) {
      const std::string where = "confirmed stop at " + stop.address + " on " + stop.round;
      if (known(where, stop.address, stop.round) && !confirmed.emplace(stop.address, stop.round).second)
        say(where, "it is there twice", "leave one of them in");
    }
    for (const Pin& pin : input_.pins) {
      const std::string where = "decision for " + pin.address + " on " + pin.round;
      if (known(where, pin.address, pin.round) && !pinned.emplace(pin.address, pin.round).second)
        say(where, "it is there twice", "decide once whether the stop is made");
      if (pin.stop) ++decided[pin.round];
    }
    for (const auto& [round, count] : decided)
      if (const auto at = rounds_.find(round); at != rounds_.end() && count > at->second->stops)
        say("round " + round,
            std::to_string(count) + " stops are decided, its limit is " + std::to_string(at->second->stops),
            "raise the limit or take a decision back");
  }

  bool known(const std::string& where, const std::string& address, const std::string& round) {
    const bool address_known = addresses_.count(address) != 0, round_known = rounds_.count(round) != 0;
    if (!address_known) say(where, "no household has this address", "leave it out, or add the household");
    if (!round_known) say(where, "the calendar has no such round", "leave it out, or add the round");
    return address_known && round_known;
  }

  const PlanInput& input_;
  std::vector<Problem> problems_;
  std::map<std::string, const Round*> rounds_;
  std::set<std::string> areas_;
  std::map<std::string, std::string> addresses_;  ///< to their area
};

}  // namespace

std::vector<Problem> problems_of(const PlanInput& input) { return Checker(input).run(); }

std::string sentence_of(const Problem& problem) { return problem.where + ": " + problem.what + "; " + problem.remedy; }

std::string iso(Date date) {
  if (!date.ok()) return "no date";
  return date::format("%F", std::chrono::sys_days{date});
}

}  // namespace cellarer::rounds
