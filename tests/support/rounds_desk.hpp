// SPDX-License-Identifier: MIT
#pragma once
#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

namespace cellarer::testing {

inline std::string day(long days_from_now) { return from_now(days_from_now * day_s).substr(0, 10); }

inline std::string in_path(std::string name) {
  for (auto at = name.find(' '); at != std::string::npos; at = name.find(' ')) name.replace(at, 1, "%20");
  return name;
}

/// A home with cells and tape, an agency's planner, and rounds to the north.
struct RoundsDesk {
  RoundsDesk() : planner(home.service.port(), staff("Desk")) {
    const nlohmann::json body{{"household", "h-2"},
                              {"zone", "Europe/Oslo"},
                              {"changing_times", {"21:30"}},
                              {"area", "north"},
                              {"items", {{{"item", "tape"}, {"pack_size", 5}, {"lead_days", 1}, {"every_days", 2}}}}};
    REQUIRE(home.client.post("/api/v1/households", body).status == 201);
  }

  std::string staff(const char* label) {
    return home.service.let_in({"--role", "planner", "--label", label, "--without-passkey"});
  }
  nlohmann::json calendar(int follows) {
    const nlohmann::json body{{"follows", follows},
                              {"zone", "UTC"},
                              {"rules",
                               {{{"name", "north"},
                                 {"area", "north"},
                                 {"dates", {day(2), day(9), day(16), day(23)}},
                                 {"stops", 10},
                                 {"lead_days", 1}}}},
                              {"items", {{{"item", "tape"}, {"pieces_per_pack", 5}}}}};
    const auto answer = planner.post("/api/v1/calendar", body);
    INFO(answer.body);
    REQUIRE(answer.status == 200);
    return answer.json();
  }
  int tape(const std::string& household) {
    const auto forecast = home.client.get(std::string("/api/v1/households/") + household + "/forecast").json();
    for (const auto& item : forecast["stock"])
      if (item["item"] == "tape") return item["quantity"].get<int>();
    return 0;
  }
  nlohmann::json row(const std::string& household) {
    const auto board = planner.get("/api/v1/board").json();
    for (const auto& row : board["rows"])
      if (row["household"] == household) return row;
    return nullptr;
  }

  Home home;
  HttpClient planner;
};

inline int packs_of(const nlohmann::json& stops) {
  int packs = 0;
  for (const auto& stop : stops)
    for (const auto& line : stop["lines"]) packs += line["packs"].get<int>();
  return packs;
}

}  // namespace cellarer::testing
