// SPDX-License-Identifier: MIT
// When a household is reminded, of what, and to whom it goes. The expected behaviour is issue and design: at most one a
// side and changing time, gone once recorded, quiet hours that never silence "change before tonight", neutral words
// (DEVELOPERS.md, 9.8).
#include "server/reminders/watch.hpp"

#include <algorithm>
#include <map>
#include <memory>

#include "server/json/field.hpp"
#include "server/reminders/feed.hpp"
#include "server/reminders/round.hpp"
#include "server/reminders/words.hpp"
#include "server/store/memory_store.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::reminders;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

const std::string home = "agency/h-1";

Instant at(const char* text) { return cellarer::json::parse_rfc3339(text).value(); }

/// As the service answers it, with what reminders look at.
nlohmann::json forecast(const std::string& left, const std::string& right = "expected_to_last_tonight") {
  const auto side = [](const std::string& phrase) {
    return nlohmann::json{
        {"phrase", phrase}, {"change_by", "2026-11-28T21:30:00+01:00"}, {"cells_since", "2026-11-16T21:30:00+01:00"}};
  };
  return {{"household", "h-1"},
          {"zone_now", "Europe/Oslo"},
          {"as_of", "2026-11-28T09:00:00+01:00"},
          {"in_hospital", nullptr},
          {"next_changing_time", "2026-11-28T21:30:00+01:00"},
          {"sides", {{"left", side(left)}, {"right", side(right)}}},
          {"stock", nlohmann::json::array({{{"item", "cells"}, {"order_by", nullptr}, {"order_quantity", 0}}})}};
}

const nlohmann::json tonight = forecast("change_before_tonight"), calm = forecast("expected_to_last_tonight");

struct House {
  std::unique_ptr<store::Store> store = store::open_memory_store();
  service::ReminderSettings settings;

  void phone(const std::string& account, const std::string& part) {
    store::StoredAccount one{account, "agency", home, "household", "Phone"};
    store->access().invite(one, {"i-" + account, account, ""}, "code");
    store->reminders().put_subscription({account, home, "https://push.example/" + account, "key", "auth", part});
  }
  /// What is on its way after a look: "phone kind body", taken away as if it was sent.
  std::vector<std::string> look_at(const nlohmann::json& document, const char* now) {
    look({home, "h-1", document, settings}, store->reminders(), at(now));
    return sent(now);
  }
  /// The agency has closed the household.
  std::vector<std::string> closed(const char* now) {
    end_reminders(home, "h-1", store->reminders(), at(now));
    return sent(now);
  }
  std::vector<std::string> sent(const char* now) {
    std::vector<std::string> said;
    for (const auto& one : store->reminders().waiting(at(now), 100)) {
      const auto payload = nlohmann::json::parse(one.message.payload);
      said.push_back(one.message.account + " " + payload["kind"].get<std::string>() + " " +
                     payload["body"].get<std::string>());
      store->reminders().sent(one, at(now));
    }
    std::sort(said.begin(), said.end());
    return said;
  }
};

using Said = std::vector<std::string>;
const std::string before_tonight = "Something to do before tonight. Open the page.";

}  // namespace

TEST_CASE("one reminder a side and changing time, from four hours before it; gone on all phones once recorded",
          "[reminders]") {
  House house;
  house.phone("a", "first");
  house.phone("b", "first");
  CHECK(house.look_at(tonight, "2026-11-28T17:29:00+01:00").empty());
  CHECK(house.look_at(tonight, "2026-11-28T17:30:00+01:00") ==
        Said{"a reminder " + before_tonight, "b reminder " + before_tonight});
  CHECK(house.look_at(tonight, "2026-11-28T17:31:00+01:00").empty());
  CHECK(house.look_at(tonight, "2026-11-28T20:30:00+01:00").empty());
  CHECK(house.look_at(calm, "2026-11-28T20:31:00+01:00") ==
        Said{"a gone Recorded meanwhile.", "b gone Recorded meanwhile."});
  CHECK(house.look_at(calm, "2026-11-28T20:32:00+01:00").empty());
}

TEST_CASE("what was recorded and is taken back brings its reminder again for the same time, as one", "[reminders]") {
  House house;
  house.phone("a", "first");
  house.phone("b", "second");
  const Said again{"a reminder " + before_tonight};
  CHECK(house.look_at(tonight, "2026-11-28T17:30:00+01:00") == again);
  CHECK(house.look_at(calm, "2026-11-28T18:00:00+01:00") == Said{"a gone Recorded meanwhile."});
  CHECK(house.look_at(tonight, "2026-11-28T18:10:00+01:00") == again);
  CHECK(house.look_at(tonight, "2026-11-28T18:11:00+01:00").empty());
  // The second caregiver is asked as long after it came again as after any other.
  CHECK(house.look_at(tonight, "2026-11-28T19:09:00+01:00").empty());
  CHECK(house.look_at(tonight, "2026-11-28T19:10:00+01:00").size() == 1);
  CHECK(house.look_at(calm, "2026-11-28T19:20:00+01:00").size() == 2);
  // Recorded and taken back before anybody was reminded of it: from the usual hour on, once.
  House early;
  early.phone("a", "first");
  CHECK(early.look_at(calm, "2026-11-28T12:00:00+01:00").empty());
  CHECK(early.look_at(tonight, "2026-11-28T12:10:00+01:00").empty());
  CHECK(early.look_at(tonight, "2026-11-28T17:30:00+01:00") == again);
  // Recorded and taken back while nothing went out: what waits is replaced, so that a phone is told once.
  House silent;
  silent.phone("a", "first");
  for (const auto* document : {&tonight, &calm, &tonight})
    look({home, "h-1", *document, silent.settings}, silent.store->reminders(), at("2026-11-28T18:00:00+01:00"));
  CHECK(silent.sent("2026-11-28T18:01:00+01:00") == again);
}

TEST_CASE("a reminder whose changing time has passed is not said again for it", "[reminders]") {
  House house;
  house.phone("a", "first");
  nlohmann::json next = tonight;
  next["next_changing_time"] = "2026-11-29T21:30:00+01:00";
  CHECK(house.look_at(tonight, "2026-11-28T18:00:00+01:00").size() == 1);
  CHECK(house.look_at(next, "2026-11-28T21:31:00+01:00").empty());
  CHECK(house.look_at(tonight, "2026-11-28T21:32:00+01:00").empty());  // a clock that was set back
}

TEST_CASE("of a household that is closed they are taken away, and come back for the same time when it is open again",
          "[reminders]") {
  House house;
  house.phone("a", "first");
  house.phone("b", "second");
  CHECK(house.look_at(tonight, "2026-11-28T17:30:00+01:00") == Said{"a reminder " + before_tonight});
  CHECK(house.closed("2026-11-28T17:40:00+01:00") == Said{"a gone Reminders have ended."});
  CHECK(house.closed("2026-11-28T18:30:00+01:00").empty());  // and none to the second
  CHECK(house.look_at(tonight, "2026-11-28T18:40:00+01:00") == Said{"a reminder " + before_tonight});
  CHECK(house.look_at(calm, "2026-11-28T19:00:00+01:00").size() == 1);
  CHECK(house.closed("2026-11-28T19:10:00+01:00").empty());
}

TEST_CASE("what waits for a phone when the household is closed is not sent", "[reminders]") {
  House house;
  house.phone("a", "first");
  look({home, "h-1", tonight, house.settings}, house.store->reminders(), at("2026-11-28T17:30:00+01:00"));
  CHECK(house.closed("2026-11-28T17:31:00+01:00") == Said{"a gone Reminders have ended."});
}

TEST_CASE(
    "the hour that was asked for is that of the household's clock, and an hour before the changing time at the latest",
    "[reminders]") {
  House house;
  house.phone("a", "first");
  house.settings.at = hours(8);
  CHECK(house.look_at(tonight, "2026-11-28T06:59:00Z").empty());
  CHECK(house.look_at(tonight, "2026-11-28T07:00:00Z").size() == 1);
  House late;
  late.phone("a", "first");
  late.settings.at = hours(23);
  CHECK(late.look_at(tonight, "2026-11-28T20:29:00+01:00").empty());
  CHECK(late.look_at(tonight, "2026-11-28T20:30:00+01:00").size() == 1);
}

TEST_CASE("quiet hours silence an order, and never what is to be done before tonight", "[reminders]") {
  House house;
  house.phone("a", "first");
  house.settings.quiet = {hours(0), minutes(23 * 60 + 59)};
  CHECK(house.look_at(tonight, "2026-11-28T18:00:00+01:00").size() == 1);
  CHECK(house.look_at(forecast("expected_to_last_tonight", "change_now"), "2026-11-29T03:10:00+01:00") ==
        Said{"a gone Recorded meanwhile.", "a reminder Something to do now. Open the page."});
  nlohmann::json order = calm;
  order["stock"][0] = {{"item", "cells"}, {"order_by", "2026-11-30"}, {"order_quantity", 48}};
  House other;
  other.phone("a", "first");
  other.settings.quiet = {hours(22), hours(7)};
  other.settings.at = hours(6);
  CHECK(other.look_at(order, "2026-11-29T06:30:00+01:00").empty());
  CHECK(other.look_at(order, "2026-11-29T07:00:00+01:00") ==
        Said{"a reminder Something to look at in the next days. Open the page."});
  CHECK(other.look_at(order, "2026-11-29T12:00:00+01:00").empty());
}

TEST_CASE("in hospital nothing is reminded of, and back home it comes again", "[reminders]") {
  // A side whose unit had warned before reads "change now" there too (DEVELOPERS.md, 9.3), and what is counted by its
  // own terms keeps its date: both stand on the page, and neither goes to a phone or into a calendar.
  nlohmann::json home = forecast("change_now");
  home["stock"][0] = {{"item", "masks"}, {"order_by", "2026-11-27"}, {"order_quantity", 5}};
  nlohmann::json away = home;
  away["in_hospital"] = {{"since", "2026-11-28T10:00:00+01:00"}, {"entry", 9}};
  const Said both{"a reminder Something to do now. Open the page.",
                  "a reminder Something to look at in the next days. Open the page."};
  const Said taken_away(2, "a gone Recorded meanwhile.");
  House house;
  house.phone("a", "first");
  house.phone("b", "second");
  CHECK(house.look_at(home, "2026-11-28T09:30:00+01:00") == both);
  CHECK(house.look_at(away, "2026-11-28T10:00:00+01:00") == taken_away);
  CHECK(house.look_at(away, "2026-11-28T12:00:00+01:00").empty());  // nor is the second caregiver asked
  CHECK(house.look_at(home, "2026-11-28T14:00:00+01:00") == both);
  const auto events = [](const nlohmann::json& document) {
    return feed_calendar(document, {}, "feed", "", Language::english, [](auto&&...) { return 0; }).events.size();
  };
  CHECK(events(home) == 3);  // both sides' dates and the order
  CHECK(events(away) == 0);
}

TEST_CASE("unanswered, one goes to the second caregiver", "[reminders]") {
  House house;
  house.phone("a", "first");
  house.phone("b", "second");
  CHECK(house.look_at(tonight, "2026-11-28T17:30:00+01:00") == Said{"a reminder " + before_tonight});
  CHECK(house.look_at(tonight, "2026-11-28T18:29:00+01:00").empty());
  CHECK(house.look_at(tonight, "2026-11-28T18:30:00+01:00") ==
        Said{"b reminder Nothing is recorded yet. " + before_tonight});
  CHECK(house.look_at(tonight, "2026-11-28T19:30:00+01:00").empty());
  CHECK(house.look_at(calm, "2026-11-28T19:31:00+01:00").size() == 2);
  House never;
  never.phone("a", "first");
  never.phone("b", "second");
  never.settings.second_after.reset();
  CHECK(never.look_at(tonight, "2026-11-28T17:30:00+01:00").size() == 1);
  CHECK(never.look_at(tonight, "2026-11-28T21:00:00+01:00").empty());
  House alone;
  alone.phone("b", "second");
  CHECK(alone.look_at(tonight, "2026-11-28T17:30:00+01:00").size() == 1);
}

TEST_CASE("words are neutral until the household asks for more, and what was not asked for is not sent",
          "[reminders]") {
  House house;
  house.phone("a", "first");
  house.settings.plain = true;
  CHECK(house.look_at(tonight, "2026-11-28T18:00:00+01:00") ==
        Said{"a reminder Change the left cells before tonight, 21:30."});
  House none;
  none.phone("a", "first");
  none.settings.changes = false;
  CHECK(none.look_at(tonight, "2026-11-28T18:00:00+01:00").empty());
  for (const std::string subject : {"left", "right", "order:cells"}) {
    for (const auto language : {Language::english, Language::spanish})
      CHECK(event_title(subject, false, language) == event_title("left", false, language));
  }
  CHECK(event_text(at("2026-11-28T18:00:00Z"), zone_of(calm), Language::english)
            .find("The unit's own alarm comes first") != std::string::npos);
}

TEST_CASE("an event of the feed keeps its uid while its date moves, counts up, and is another once recorded",
          "[reminders]") {
  std::map<std::string, std::pair<Instant, int>> stood;
  const Sequences count = [&](const std::string& uid, Instant when) {
    auto& [before, number] = stood.try_emplace(uid, when, 0).first->second;
    if (before != when) ++number;
    before = when;
    return number;
  };
  const auto left = [&](const nlohmann::json& document) {
    return feed_calendar(document, {}, "feed", "https://cells.example.org/h/h-1", Language::english, count)
        .events.at(0);
  };
  const auto first = left(calm);
  CHECK(first.starts == at("2026-11-28T20:30:00Z"));
  CHECK(first.sequence == 0);
  nlohmann::json moved = calm;
  moved["sides"]["left"]["change_by"] = "2026-11-27T21:30:00+01:00";
  CHECK(left(moved).uid == first.uid);
  CHECK(left(moved).sequence == 1);
  CHECK(left(moved).starts == at("2026-11-27T20:30:00Z"));
  nlohmann::json changed = calm;
  changed["sides"]["left"]["cells_since"] = "2026-11-28T21:30:00+01:00";
  changed["sides"]["left"]["change_by"] = "2026-12-10T21:30:00+01:00";
  CHECK(left(changed).uid != first.uid);
  CHECK(left(changed).sequence == 0);
  // Calendars look again only every 8 to 24 hours: the first alarm stands a day ahead.
  CHECK(first.alarms.at(0).before == hours(24));
  CHECK(first.uid.find("h-1") == std::string::npos);
  CHECK(feed_calendar(calm, {}, "another", "", Language::english, count).events.at(0).uid != first.uid);
}

TEST_CASE("what fails is tried again ever less often, and not before the push service asked", "[reminders]") {
  using std::chrono::seconds;
  CHECK(pause_after(0, std::nullopt) == seconds(10));
  CHECK(pause_after(3, std::nullopt) == seconds(80));
  CHECK(pause_after(50, std::nullopt) == seconds(900));
  CHECK(pause_after(0, seconds(120)) == seconds(120));
  CHECK(pause_after(0, seconds(1'000'000)) == seconds(3600));
}

TEST_CASE("what a household asks for comes back as it was written, and what cannot be is refused", "[reminders]") {
  const auto read = [](const nlohmann::json& body) {
    return service::read_reminder_settings(cellarer::json::Field(body, ""));
  };
  const nlohmann::json body{{"what", {"changes"}},
                            {"at", "18:00"},
                            {"quiet", {{"from", "21:00"}, {"to", "06:30"}}},
                            {"words", "plain"},
                            {"second_after_min", 90}};
  CHECK(service::reminder_settings_document(read(body)) == body);
  const nlohmann::json least{{"what", nlohmann::json::array()},
                             {"at", nullptr},
                             {"quiet", nullptr},
                             {"words", "neutral"},
                             {"second_after_min", nullptr}};
  CHECK(service::reminder_settings_document(read(least)) == least);
  for (const auto& [name, wrong] :
       std::vector<std::pair<std::string, nlohmann::json>>{{"what", {"changes", "changes"}},
                                                           {"what", {"else"}},
                                                           {"at", "24:00"},
                                                           {"quiet", {{"from", "21:00"}, {"to", "21:00"}}},
                                                           {"words", "loud"},
                                                           {"second_after_min", 9}}) {
    nlohmann::json other = body;
    other[name] = wrong;
    INFO(name << " " << wrong);
    CHECK_THROWS_AS(read(other), cellarer::json::Refused);
  }
}
