// SPDX-License-Identifier: MIT
// Reminders over HTTP: the calendar's secret address, and messages to phones through a push service on loopback that
// speaks RFC 8030, read by a browser's keys (RFC 8291) and checked for who sent them (RFC 8292).
#include <map>
#include <thread>

#include "tests/support/catch.hpp"
#include "tests/support/push_service.hpp"
#include "tests/support/service.hpp"
#include "tests/support/web_push.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

const std::string contact = "mailto:operator@example.org";

json pushing(const PushService& push, const json& more = json::object()) {
  json config{{"push", {{"contact", contact}, {"local_service", push.origin()}, {"every_s", 1}}}};
  config.merge_patch(more);
  return config;
}

struct Phone {
  Phone(Home& home, const PushService& push, const std::string& name)
      : browser(new_browser()),
        path("/p/" + name),
        endpoint(push.origin() + path),
        client(home.service.port(),
               home.service.let_in({"--role", "household", "--household", "h-1", "--label", name})) {}

  Answer subscribe(const std::string& part = "first") {
    return client.post(
        at_home + "/push",
        {{"endpoint", endpoint},
         {"keys", {{"p256dh", to_base64url(browser.public_key)}, {"auth", to_base64url(browser.auth_secret)}}},
         {"part", part}});
  }
  json read(const PushService::Message& message) const { return json::parse(read_message(message.body, browser)); }
  json state() { return client.get(at_home + "/reminders").json()["push"]; }

  Browser browser;
  std::string path, endpoint;
  HttpClient client;
};

/// The unit warned on the left: change now.
void warn(Home& home) {
  REQUIRE(
      home.client.post(at_home + "/readings", {{"at", from_now(-30)}, {"side", "left"}, {"warning", true}}).status ==
      201);
}

std::string key_of(const json& made) {
  const auto address = made["address"].get<std::string>();
  return address.substr(address.find("?key=") + 5);
}

}  // namespace

TEST_CASE("a household's calendar is read by its secret address alone, until that is renewed or ended", "[http]") {
  Home at;
  CHECK(at.client.get(at_home + "/reminders").json()["calendar"].is_null());
  const auto made = at.client.post(at_home + "/calendar", json::object());
  REQUIRE(made.status == 201);
  CHECK(made.headers.at("cache-control") == "no-store");
  CHECK(made.json()["webcal"].get<std::string>().starts_with("webcal://"));
  const auto key = key_of(made.json());
  CHECK(key.size() == 27);  // 160 bits in base64url
  HttpClient calendar(at.service.port(), "");
  const std::string feed = "/api/v1/feeds/reminders.ics?key=";
  const auto read = calendar.get(feed + key);
  REQUIRE(read.status == 200);
  CHECK(read.headers.at("content-type") == "text/calendar; charset=utf-8");
  CHECK(read.body.starts_with("BEGIN:VCALENDAR\r\n"));
  CHECK(read.body.find("REFRESH-INTERVAL;VALUE=DURATION:PT8H\r\n") != std::string::npos);
  CHECK(read.body.find("BEGIN:VEVENT\r\n") != std::string::npos);
  CHECK(read.body.find("SUMMARY:Look at the page\r\n") != std::string::npos);
  CHECK(read.body.find("cells\r\n") == std::string::npos);  // neutral words
  // The page puts its language into the address; a language that there is not is English.
  CHECK(calendar.get(feed + key + "&language=es").body.find("SUMMARY:Mire la p\u00e1gina\r\n") != std::string::npos);
  CHECK(calendar.get(feed + key + "&language=nb").body.find("SUMMARY:Look at the page\r\n") != std::string::npos);
  CHECK(calendar.get(feed + key, {"If-None-Match: " + read.headers.at("etag")}).status == 304);
  CHECK(at.client.get(at_home + "/reminders").json()["calendar"]["last_read_at"].is_string());

  const auto renewed = key_of(at.client.post(at_home + "/calendar", json::object()).json());
  CHECK(calendar.get(feed + key).problem() == "unknown-feed");
  CHECK(calendar.get(feed + renewed).status == 200);
  CHECK(at.client.send("DELETE", at_home + "/calendar").status == 204);
  CHECK(calendar.get(feed + renewed).problem() == "unknown-feed");
  CHECK(calendar.get("/api/v1/feeds/reminders.ics").problem() == "unknown-feed");
  // The key is in no log: addresses are logged without their queries.
  CHECK(at.service.log().find(key) == std::string::npos);
  CHECK(at.service.log().find(renewed) == std::string::npos);
}

TEST_CASE("who tries keys of calendars waits like who tries codes", "[http]") {
  Home at;
  HttpClient stranger(at.service.port(), "");
  stranger.come_from("127.0.0.77");
  int unknown = 0;
  Answer last;
  for (int tries = 0; tries < 40 && last.status != 429; ++tries) {
    last = stranger.get("/api/v1/feeds/reminders.ics?key=guess-" + std::to_string(tries));
    unknown += last.status == 404 ? 1 : 0;
  }
  CHECK(last.status == 429);
  CHECK(unknown <= 21);  // twenty at once: server/access/throttle.hpp
}

TEST_CASE("plain words and what to be reminded of are the household's to set", "[http]") {
  Home at;
  const json wanted{
      {"what", {"changes"}}, {"at", "18:00"}, {"quiet", nullptr}, {"words", "plain"}, {"second_after_min", nullptr}};
  const auto before = at.client.get(at_home + "/reminders").json();
  CHECK(before["entry"] == 0);
  CHECK(before["settings"]["words"] == "neutral");
  CHECK_FALSE(before["push"]["offered"].get<bool>());
  const auto recorded = at.client.post(at_home + "/reminders", wanted);
  REQUIRE(recorded.status == 201);
  const auto now = at.client.get(at_home + "/reminders").json();
  CHECK(now["settings"] == wanted);
  CHECK(now["entry"] == recorded.json()["entry"]["id"]);
  const auto key = key_of(at.client.post(at_home + "/calendar", json::object()).json());
  const auto feed = HttpClient(at.service.port(), "").get("/api/v1/feeds/reminders.ics?key=" + key).body;
  CHECK(feed.find("SUMMARY:Change the left cells\r\n") != std::string::npos);
  CHECK(feed.find("Order") == std::string::npos);
  // Taken back: as before.
  REQUIRE(at.client.post(at_home + "/voids", {{"entry", now["entry"]}}).status == 201);
  CHECK(at.client.get(at_home + "/reminders").json()["settings"] == before["settings"]);
  CHECK(at.client.post(at_home + "/reminders", {{"what", {"changes"}}, {"words", "loud"}}).status == 422);
}

TEST_CASE("a message reaches the phone encrypted and signed, and is taken away on all phones once recorded", "[http]") {
  PushService push;
  Home at(pushing(push));
  Phone kitchen(at, push, "kitchen"), bedroom(at, push, "bedroom");
  REQUIRE(kitchen.subscribe().status == 201);
  REQUIRE(bedroom.subscribe().status == 201);
  warn(at);
  const auto came = push.wait_for(2);
  REQUIRE(came.size() == 2);
  const auto& to_kitchen = came[0].path == kitchen.path ? came[0] : came[1];
  CHECK(to_kitchen.headers.at("content-encoding") == "aes128gcm");
  CHECK(to_kitchen.headers.at("urgency") == "high");
  CHECK(std::stol(to_kitchen.headers.at("ttl")) > 0);
  CHECK(to_kitchen.headers.at("topic").size() <= 32);  // RFC 8030, 5.4
  const auto claims = json::parse(claims_of(to_kitchen.headers.at("authorization")));
  CHECK(claims["aud"] == push.origin());
  CHECK(claims["sub"] == contact);
  CHECK(to_kitchen.headers.at("authorization").ends_with("k=" + kitchen.state()["key"].get<std::string>()));
  const auto said = kitchen.read(to_kitchen);
  CHECK(said["kind"] == "reminder");
  CHECK(said["body"] == "Something to do now. Open the page.");
  CHECK(said["tag"] == "left");
  CHECK(said["urgent"] == true);
  CHECK_THROWS(bedroom.read(to_kitchen));

  CHECK(kitchen.state()["this_phone"]["last_confirmed_at"].is_null());
  CHECK(kitchen.client.post(at_home + "/push/confirmed", {{"reminder", said["reminder"]}}).status == 204);
  CHECK(kitchen.state()["this_phone"]["last_confirmed_at"].is_string());
  CHECK(kitchen.state()["phones"].size() == 2);

  std::this_thread::sleep_for(std::chrono::milliseconds(2500));  // more rounds than one
  CHECK(push.wait_for(2).size() == 2);                           // at most one
  const json change{
      {"at", from_now(-5)}, {"side", "left"}, {"reason", "warning"}, {"cells", {{"profile", "lr6-family"}}}};
  const auto changed = bedroom.client.post(at_home + "/cell-changes", change);
  REQUIRE(changed.status == 201);
  const auto all = push.wait_for(4);
  REQUIRE(all.size() == 4);
  for (std::size_t i = 2; i < 4; ++i) {
    const auto gone = (all[i].path == kitchen.path ? kitchen : bedroom).read(all[i]);
    CHECK(gone["kind"] == "gone");
    CHECK(gone["tag"] == "left");
    CHECK(all[i].headers.at("topic") == to_kitchen.headers.at("topic"));
  }
  // Taken back: the unit's warning stands again, and so does what was said.
  REQUIRE(bedroom.client.post(at_home + "/voids", {{"entry", changed.json()["entry"]["id"]}}).status == 201);
  // The change had taken cells that nobody counted, so that an order may have been told meanwhile; it is not asked
  // here.
  std::map<std::string, int> told_again;
  for (std::size_t next = 4; told_again.size() < 2 && next < 12; ++next) {
    const auto again = push.wait_for(next + 1);
    REQUIRE(again.size() > next);
    const auto told = (again[next].path == kitchen.path ? kitchen : bedroom).read(again[next]);
    if (told["tag"] != "left") continue;
    CHECK(told["kind"] == "reminder");
    CHECK(told["body"] == "Something to do now. Open the page.");
    ++told_again[again[next].path];
  }
  CHECK(told_again.size() == 2);
}

TEST_CASE("a closed home is reminded of nothing; open again, or the closing taken back, it is as before", "[http]") {
  PushService push;
  Home at(pushing(push));
  Phone kitchen(at, push, "kitchen");
  HttpClient planner(at.service.port(),
                     at.service.let_in({"--role", "planner", "--label", "Desk", "--without-passkey"}));
  HttpClient calendar(at.service.port(), "");
  const auto feed =
      "/api/v1/feeds/reminders.ics?key=" + key_of(at.client.post(at_home + "/calendar", json::object()).json());
  const auto said = [&](std::size_t nth) {
    const auto came = push.wait_for(nth);
    REQUIRE(came.size() == nth);
    const auto told = kitchen.read(came.back());
    return told["kind"].get<std::string>() + ": " + told["body"].get<std::string>();
  };
  const auto do_something = "reminder: Something to do now. Open the page.", ended = "gone: Reminders have ended.";
  REQUIRE(kitchen.subscribe().status == 201);
  warn(at);
  CHECK(said(1) == do_something);
  const auto before = calendar.get(feed).body;
  CHECK(before.find("BEGIN:VALARM") != std::string::npos);

  REQUIRE(planner.post(at_home + "/close", json::object()).status == 201);
  CHECK(said(2) == ended);
  CHECK(at.client.get(at_home + "/reminders").json()["closed_at"].is_string());
  const auto closed = calendar.get(feed);
  CHECK(closed.status == 200);
  CHECK(closed.body.find("BEGIN:V") == closed.body.rfind("BEGIN:V"));  // the calendar itself, without events and alarms
  CHECK(closed.body.find("NAME:Cellarer\r\n") != std::string::npos);
  warn(at);
  std::this_thread::sleep_for(std::chrono::milliseconds(2500));  // more rounds than one
  CHECK(push.wait_for(2).size() == 2);

  REQUIRE(planner.post(at_home + "/reopen", json::object()).status == 201);
  CHECK(said(3) == do_something);
  CHECK(at.client.get(at_home + "/reminders").json()["closed_at"].is_null());
  CHECK(calendar.get(feed).body.find("BEGIN:VALARM") != std::string::npos);

  REQUIRE(planner.post(at_home + "/close", json::object()).status == 201);
  CHECK(said(4) == ended);
  const auto entry = at.client.get(at_home + "/entries").json()["entries"][0];
  REQUIRE(entry["kind"] == "closed");
  REQUIRE(planner.post(at_home + "/voids", {{"entry", entry["id"]}}).status == 201);
  CHECK(said(5) == do_something);
  CHECK(calendar.get(feed).body.find("BEGIN:VALARM") != std::string::npos);
}

TEST_CASE("a subscription that its push service knows no more is removed; a busy one is tried again", "[http]") {
  PushService push;
  Home at(pushing(push));
  Phone gone(at, push, "gone"), busy(at, push, "busy");
  push.answer(gone.path, 410);
  push.answer(busy.path, 429, "Retry-After: 1\r\n");
  REQUIRE(gone.subscribe().status == 201);
  REQUIRE(busy.subscribe().status == 201);
  CHECK(gone.client.post(at_home + "/push/trial", json::object()).status == 202);
  CHECK(busy.client.post(at_home + "/push/trial", json::object()).status == 202);
  REQUIRE(push.wait_for(2).size() == 2);
  for (int tries = 0; tries < 100 && !gone.state()["this_phone"].is_null(); ++tries)
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
  CHECK(gone.state()["this_phone"].is_null());
  CHECK(gone.client.post(at_home + "/push/trial", json::object()).problem() == "not-offered");
  push.answer(busy.path, 201);
  const auto came = push.wait_for(3, 40);  // again after ten seconds
  REQUIRE(came.size() >= 3);
  CHECK(busy.read(came.back())["kind"] == "trial");
}

TEST_CASE("a phone that is signed out, or unsubscribes, gets nothing more", "[http]") {
  PushService push;
  Home at(pushing(push));
  Phone one(at, push, "one"), other(at, push, "other");
  REQUIRE(one.subscribe().status == 201);
  REQUIRE(other.subscribe().status == 201);
  const auto account = other.client.get("/api/v1/session").json()["account"].get<std::string>();
  REQUIRE(at.client.send("DELETE", at_home + "/phones/" + account).status == 204);
  CHECK(one.state()["phones"].size() == 1);
  Phone leaves(at, push, "leaves");
  REQUIRE(leaves.subscribe().status == 201);
  CHECK(leaves.client.send("DELETE", "/api/v1/session").status == 204);
  CHECK(one.state()["phones"].size() == 1);
  CHECK(one.client.send("DELETE", at_home + "/push").status == 204);
  CHECK(one.state()["phones"].empty());
  warn(at);
  CHECK(push.wait_for(1, 3).empty());
}

TEST_CASE("messages go to https alone, with keys that are keys, and to phones", "[http]") {
  PushService push, other;
  Home at(pushing(push));
  Phone phone(at, push, "phone");
  const auto good = phone.endpoint;
  for (const std::string& wrong : {other.origin() + "/p", std::string("http://push.example.net/p"),
                                   std::string("https://push.example.net:8443/p")}) {
    INFO(wrong);
    phone.endpoint = wrong;
    CHECK(phone.subscribe().problem() == "out-of-range");
  }
  phone.endpoint = good;
  phone.browser.auth_secret = "short";
  CHECK(phone.subscribe().problem() == "out-of-range");
  CHECK(at.client.send("DELETE", at_home + "/push").problem() == "not-allowed");  // an administrator is no phone
}

TEST_CASE("without a contact in the configuration nothing is sent, and it says so", "[http]") {
  PushService push;
  Home at;
  Phone phone(at, push, "phone");
  CHECK_FALSE(phone.state()["offered"].get<bool>());
  CHECK(phone.state()["key"].is_null());
  CHECK(phone.subscribe().problem() == "not-offered");
}
