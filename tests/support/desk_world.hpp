// SPDX-License-Identifier: MIT
#pragma once
#include "model/rounds/check.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/planner_desk.hpp"
#include "server/store/memory_store.hpp"
#include "tests/support/fake_libraries.hpp"

/// An agency with households that use up tape, 5 pieces a pack, and a round to the north every Wednesday: for tests of
/// the planner's desk. Cells are not the rounds' there, so that nothing hangs on a forecast of sides.
namespace cellarer::testing {

using Json = nlohmann::json;

/// The round of the world's first Wednesday.
inline const std::string first_wednesday = "north 2026-03-04";

struct DeskWorld {
  DeskWorld() { calendar(); }

  void calendar(int stops = 10, int follows = 0, Json more_rules = Json::array()) {
    Json rules{{{"name", "north"}, {"area", "north"}, {"weekdays", {"wed"}}, {"stops", stops}, {"lead_days", 1}}};
    for (auto& rule : more_rules) rules.push_back(rule);
    Json body{{"rules", rules}, {"items", {{{"item", "tape"}, {"pieces_per_pack", 5}}}}, {"horizon_days", 28}};
    households.journal().record({"agency", service::desk::round_calendar, "", body.dump(), key(), "planner", follows});
  }

  /// One that uses a piece of tape every so many days.
  std::string household(const std::string& reference, const char* area = "north", double every_days = 3) {
    Json body{{"household", reference},
              {"zone", "UTC"},
              {"changing_times", {"21:30"}},
              {"items", {{{"item", "tape"}, {"pack_size", 5}, {"lead_days", 2}, {"every_days", every_days}}}}};
    if (area != nullptr) body["area"] = area;
    const std::string name = "agency/" + reference;
    households.create(name, body.dump(), key());
    return name;
  }
  void count(const std::string& name, int pieces) {
    record(name, service::kind::stock_count,
           {{"at", json::rfc3339(clock.now(), nullptr)}, {"item", "tape"}, {"quantity", pieces}});
  }
  std::int64_t record(const std::string& name, const char* kind, const Json& body) {
    return households.record({name, kind, clock.now(), "", body.dump(), key()}).entry.number;
  }
  void agency_stock(const Json& body) {
    households.journal().record({"agency", service::desk::agency_stock, "tape", body.dump(), key(), "planner"});
  }

  std::string key() { return "k" + std::to_string(++keys); }
  service::Doing doing() { return {"agency", "planner", "Desk", key()}; }
  /// The row as it is now.
  Json row(const std::string& name) {
    auto& board = *desk.board("agency");
    board.catch_up();
    return Json::parse(*board.row(name));
  }
  int tape_in(const std::string& name) {
    int pieces = 0;
    for (const auto& line : service::stock_at(households.snapshot(name)->record, clock.now()).lines)
      if (line.item == "tape") pieces += line.quantity;
    return pieces;
  }
  service::AgencyRecord agency() {
    return service::agency_record(*households.journal().of("agency"), *households.lots_of_agency("agency"));
  }
  void correct_lot(const char* from, const Json& to) {
    say_of_lot(service::agency_kind::lot_correction, {{"item", "tape"}, {"from", from}, {"to", to}});
  }
  void recall(const char* lot) {
    say_of_lot(service::agency_kind::lot_recall, {{"item", "tape"}, {"lot", lot}, {"recalled", true}});
  }
  void say_of_lot(const char* kind, const Json& body) {
    households.journal().record({"agency", kind, "tape/x", body.dump(), key(), "planner"});
  }

  int keys = 0;
  std::unique_ptr<store::Store> store = store::open_memory_store();
  FakeClock clock{Instant(std::chrono::seconds(1'772'366'400))};  // Sunday 2026-03-01 12:00 UTC
  FakeLibraries libraries;
  service::HouseholdService households{*store, clock, libraries};
  service::PlannerDesk desk{*store, households};
};

/// What is thrown as a problem, by its name; "none" where nothing is.
template <class Work>
std::string problem_of(const Work& work) {
  try {
    work();
  } catch (const Problem& problem) {
    return kind_of(problem.code()).name;
  } catch (const json::Refused& refused) {
    return refused.code() + " " + refused.place();
  }
  return "none";
}

}  // namespace cellarer::testing
