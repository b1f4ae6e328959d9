// SPDX-License-Identifier: MIT
// Sessions over time: what a token is worth, when it is replaced, and that no answer lost on its way signs a home out.
// The expected times are those of server/access/lifetimes.hpp, written out here.
#include "server/access/sessions.hpp"

#include "server/access/guest_hours.hpp"
#include "server/access/invitations.hpp"
#include "server/access/secrets.hpp"
#include "server/store/memory_store.hpp"
#include "tests/support/catch.hpp"

namespace {

using namespace cellarer;
using namespace cellarer::access;
using namespace std::chrono_literals;
using Is = Standing::Is;

struct House {
  std::unique_ptr<store::Store> store = store::open_memory_store();
  FakeClock clock{Instant(std::chrono::seconds(1'800'000'000))};
  Sessions sessions{store->access(), clock};

  /// A phone or a staff member who has just come in; the token.
  std::string come_in(Wish wish) {
    wish.agency = "agency";
    wish.label = "A phone";
    if (is_phone(wish.role)) wish.household_key = "agency/h-1";
    const auto invited = invite(store->access(), wish, clock.now());
    const auto [session, token] = Sessions::draw(invited.account, wish.role, clock.now());
    const auto row = store->access().accept(sha256(invited.code), {"", session}, clock.now());
    REQUIRE(row);
    sessions.heed(*row);
    return token.text;
  }
  std::string phone() { return come_in({Role::household, "", "", ""}); }
};

}  // namespace

TEST_CASE("a token is worth its account; any other is worth nothing", "[access]") {
  House house;
  const auto token = house.phone();
  const auto standing = house.sessions.check(token);
  REQUIRE(standing.is == Is::live);
  CHECK(standing.principal->household_key == "agency/h-1");
  CHECK(standing.principal->role == Role::household);
  CHECK_FALSE(standing.rotation_due);
  CHECK(house.sessions.check(random_token()).is == Is::unknown);
  CHECK(house.sessions.check("").is == Is::unknown);
}

TEST_CASE("a token is replaced after a day, and the old one is good for five minutes more", "[access]") {
  House house;
  const auto first = house.phone();
  house.clock.advance(24h - 1s);
  CHECK_FALSE(house.sessions.check(first).rotation_due);
  CHECK_FALSE(house.sessions.rotate(first));
  house.clock.advance(1s);
  REQUIRE(house.sessions.check(first).rotation_due);
  const auto second = house.sessions.rotate(first);
  REQUIRE(second);
  CHECK(second->good_for == 400 * 24h);
  CHECK(house.sessions.check(first).is == Is::live);
  CHECK(house.sessions.check(second->text).is == Is::live);
  house.clock.advance(5min - 1s);
  CHECK(house.sessions.check(first).is == Is::live);
  house.clock.advance(1s);
  CHECK(house.sessions.check(first).is == Is::unknown);
  CHECK(house.sessions.check(second->text).is == Is::live);
}

TEST_CASE("a new token that was lost on its way signs nobody out: another is made", "[access]") {
  House house;
  const auto first = house.phone();
  house.clock.advance(30h);
  const auto lost = house.sessions.rotate(first);
  REQUIRE(lost);
  CHECK_FALSE(house.sessions.check(first).rotation_due);  // other requests of the same moment keep theirs
  house.clock.advance(72h);
  const auto standing = house.sessions.check(first);
  CHECK(standing.is == Is::live);
  REQUIRE(standing.rotation_due);
  const auto again = house.sessions.rotate(first);
  REQUIRE(again);
  CHECK(house.sessions.check(again->text).is == Is::live);
  CHECK(house.sessions.check(lost->text).is == Is::unknown);
}

TEST_CASE("a service that starts anew knows the same tokens", "[access]") {
  House house;
  const auto first = house.phone();
  house.clock.advance(25h);
  const auto second = house.sessions.rotate(first);
  REQUIRE(second);
  Sessions anew(house.store->access(), house.clock);
  CHECK(anew.check(first).is == Is::live);
  CHECK(anew.check(second->text).is == Is::live);
  anew.refresh(true);
  house.clock.advance(6min);
  Sessions later(house.store->access(), house.clock);
  CHECK(later.check(first).is == Is::unknown);
}

TEST_CASE("a phone stays signed in while it is used within 400 days, staff for twelve hours", "[access]") {
  House house;
  auto phone = house.phone();
  const auto staff = house.come_in({Role::planner, "", "", ""});
  house.clock.advance(12h - 1s);
  CHECK(house.sessions.check(staff).is == Is::live);
  house.clock.advance(1s);
  CHECK(house.sessions.check(staff).is == Is::ended);
  CHECK(house.sessions.check(staff).ended_why == "over");
  for (int i = 0; i < 3; ++i) {
    house.clock.advance(399 * 24h);
    const auto token = house.sessions.rotate(phone);
    REQUIRE(token);
    phone = token->text;
    CHECK(house.sessions.check(phone).is == Is::live);
  }
  house.clock.advance(401 * 24h);
  CHECK(house.sessions.check(phone).is == Is::ended);
}

TEST_CASE("what another process ends is heeded at the next refresh, and told why", "[access]") {
  House house;
  const auto token = house.phone();
  const auto account = house.sessions.check(token).principal->account;
  house.store->access().end_account(account, "by-agency", {"", house.clock.now()});
  house.sessions.refresh();
  const auto standing = house.sessions.check(token);
  CHECK(standing.is == Is::ended);
  CHECK(standing.ended_why == "by-agency");
  CHECK(standing.ended_at == house.clock.now());
  CHECK_FALSE(house.sessions.rotate(token));
}

TEST_CASE("a guest reads in its hours by the household's clock, until it is over", "[access]") {
  House house;
  Wish wish{Role::guest, "", "", ""};
  wish.hours = Hours{8 * 60, 15 * 60};
  wish.zone = "Europe/Oslo";
  const auto utc = [](int day, int hour, int minute) {
    return Instant(date::sys_days{date::year{2026} / 3 / day} + std::chrono::hours(hour) +
                   std::chrono::minutes(minute));
  };
  // 29 March 2026 is the day of the change to summer time: 08:00 there is 06:00 UTC (IANA time zone database).
  wish.until = utc(29, 22, 0);
  house.clock.set(utc(27, 12, 0));
  const auto token = house.come_in(wish);
  CHECK_FALSE(house.sessions.check(token).outside_hours);
  house.clock.set(utc(27, 14, 0));
  CHECK(house.sessions.check(token).outside_hours);
  house.clock.set(utc(28, 6, 59));
  CHECK(house.sessions.check(token).outside_hours);
  house.clock.set(utc(28, 7, 0));
  CHECK_FALSE(house.sessions.check(token).outside_hours);
  house.clock.set(utc(29, 6, 0));
  CHECK_FALSE(house.sessions.check(token).outside_hours);
  house.clock.set(utc(29, 21, 59));
  CHECK(house.sessions.check(token).is == Is::live);
  house.clock.set(utc(29, 22, 0));
  CHECK(house.sessions.check(token).is == Is::ended);
}

TEST_CASE("hours over midnight hold the night", "[access]") {
  const Zone utc = date::locate_zone("Etc/UTC");
  const Hours night{22 * 60, 6 * 60};
  const auto clock = [](int hour) { return Instant(std::chrono::hours(24 * 20'000 + hour)); };
  CHECK(within(night, utc, clock(23)));
  CHECK(within(night, utc, clock(5)));
  CHECK_FALSE(within(night, utc, clock(6)));
  CHECK_FALSE(within(night, utc, clock(21)));
  CHECK(within({0, 0}, utc, clock(12)));
}
