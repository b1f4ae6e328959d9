// SPDX-License-Identifier: MIT
// Who is told of what is recorded, and how many may listen (server/service/changes.hpp, server/api/event_source.hpp).
#include "server/api/event_source.hpp"

#include <vector>

#include "server/service/changes.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using Names = std::vector<std::string>;

TEST_CASE("whoever listens to a household hears of it alone, until he is gone; some hear of all", "[service]") {
  Names home, all;
  std::unique_ptr<service::Changes::Listening> outlives;
  {
    service::Changes changes;
    auto listening = changes.listen("agency/h-1", [&](const std::string& name) { home.push_back(name); });
    outlives = changes.listen(service::Changes::all, [&](const std::string& name) { all.push_back(name); });
    changes.tell("agency/h-1");
    changes.tell("agency/h-2");
    listening.reset();
    changes.tell("agency/h-1");
  }
  CHECK(home == Names{"agency/h-1"});
  CHECK(all == Names{"agency/h-1", "agency/h-2", "agency/h-1"});
}

TEST_CASE("streams are counted by address, of IPv6 by the network that a home has, and in all", "[api]") {
  cellarer::Limits limits;
  limits.event_streams = 4;
  limits.address_event_streams = 2;
  api::EventPlaces places(limits);
  const auto one = places.enter("192.0.2.1");
  auto two = places.enter("192.0.2.1");
  CHECK(one);
  CHECK(two);
  CHECK_FALSE(places.enter("192.0.2.1"));
  two.reset();
  CHECK(places.enter("192.0.2.1"));  // and gone at once
  const auto three = places.enter("2001:db8:0:1::1"), four = places.enter("2001:db8:0:1::2");
  CHECK(three);
  CHECK(four);
  CHECK_FALSE(places.enter("2001:db8:0:1::3"));
  const auto five = places.enter("2001:db8:0:2::3");
  CHECK(five);
  CHECK_FALSE(places.enter("198.51.100.7"));  // four in all
}
