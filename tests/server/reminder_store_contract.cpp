// SPDX-License-Identifier: MIT
// What any engine behind server/store/reminder_store.hpp must do. The expected behaviour is that header's text.
#include "server/store/reminder_store.hpp"

#include <memory>

#include "tests/support/catch.hpp"
#include "tests/support/engines.hpp"

namespace {

using namespace cellarer;
using namespace cellarer::store;
using cellarer::testing::at_second;
using cellarer::testing::Memory;
using cellarer::testing::Sqlite;
using Names = std::vector<std::string>;

const std::string home = "agency/h-1";

StoredFeed feed(const std::string& id, const std::string& household = home) {
  return {id, "agency", household, "reminders", "hash of " + id, "a-1", at_second(0)};
}

/// Phones of `home`, signed in.
void let_in(Store& store, const Names& accounts) {
  for (const auto& id : accounts) {
    StoredAccount account{id, "agency", home, "household", "Phone"};
    account.created_at = at_second(0);
    StoredInvitation invitation{"i-" + id, id, ""};
    invitation.expires_at = at_second(100);
    store.access().invite(account, invitation, "code " + id);
    Acceptance acceptance;
    acceptance.session.id = "s-" + id;
    acceptance.session.account = id;
    acceptance.session.token_hash = "token " + id;
    REQUIRE(store.access().accept("code " + id, acceptance, at_second(1)));
  }
}

StoredSubscription phone(const std::string& account, const std::string& part = "first", int created = 10) {
  return {account,           home, "https://push.example/" + account, std::string("\x04\x00key", 5), "auth", part,
          at_second(created)};
}

NewMessage message(const std::string& account, const std::string& topic, int next = 0, bool urgent = false) {
  return {account, topic, "{\"to\":\"" + account + "\"}", urgent, at_second(1000), at_second(next)};
}

Names accounts_of(const std::vector<WaitingMessage>& waiting) {
  Names names;
  for (const auto& one : waiting) names.push_back(one.message.account + " " + one.message.topic);
  return names;
}

}  // namespace

TEMPLATE_TEST_CASE("an address is found by its key's hash, and a new one takes the place of the one before", "[store]",
                   Memory, Sqlite) {
  TestType engine;
  auto& reminders = engine.store->reminders();
  reminders.put_feed(feed("f-1"));
  reminders.put_feed(feed("f-2", "agency/h-2"));
  CHECK(reminders.feed("hash of f-1")->household == home);
  CHECK_FALSE(reminders.feed("another"));
  reminders.feed_read("f-1", at_second(50));
  CHECK(reminders.feed_of("agency", home, "reminders")->read_at == at_second(50));
  reminders.put_feed(feed("f-3"));
  CHECK_FALSE(reminders.feed("hash of f-1"));
  CHECK(reminders.feed("hash of f-3")->id == "f-3");
  CHECK(reminders.feed("hash of f-2")->id == "f-2");
  CHECK(reminders.end_feed("agency", home, "reminders"));
  CHECK_FALSE(reminders.end_feed("agency", home, "reminders"));
  CHECK_FALSE(reminders.feed("hash of f-3"));
}

TEMPLATE_TEST_CASE("an event counts how often it moved, within its feed", "[store]", Memory, Sqlite) {
  TestType engine;
  auto& reminders = engine.store->reminders();
  reminders.put_feed(feed("f-1"));
  CHECK(reminders.sequence("f-1", "left", at_second(100)) == 0);
  CHECK(reminders.sequence("f-1", "left", at_second(100)) == 0);
  CHECK(reminders.sequence("f-1", "left", at_second(200)) == 1);
  CHECK(reminders.sequence("f-1", "left", at_second(100)) == 2);
  CHECK(reminders.sequence("f-1", "right", at_second(100)) == 0);
  CHECK(reminders.sequence("f-2", "left", at_second(300)) == 0);
}

TEMPLATE_TEST_CASE("a phone has one subscription, which ends with the phone", "[store]", Memory, Sqlite) {
  TestType engine;
  let_in(*engine.store, {"p-1", "p-2"});
  auto& reminders = engine.store->reminders();
  reminders.put_subscription(phone("p-1", "second", 20));
  reminders.put_subscription(phone("p-1", "first", 20));
  reminders.put_subscription(phone("p-2", "first", 10));
  reminders.put_subscription(phone("nobody"));
  REQUIRE(reminders.subscriptions(home).size() == 2);
  CHECK(reminders.subscriptions(home)[0].account == "p-2");
  CHECK(reminders.subscription("p-1")->part == "first");
  CHECK(reminders.subscription("p-1")->public_key == std::string("\x04\x00key", 5));
  CHECK(reminders.subscribed_households() == Names{home});
  reminders.confirmed("p-1", at_second(60));
  CHECK(reminders.subscription("p-1")->confirmed_at == at_second(60));
  reminders.queue(message("p-1", "t"));
  REQUIRE(engine.store->access().end_account("p-1", "by-phone", {"p-2", at_second(70)}));
  CHECK_FALSE(reminders.subscription("p-1"));
  CHECK(reminders.waiting(at_second(80), 10).empty());
  CHECK(reminders.end_subscription("p-2"));
  CHECK_FALSE(reminders.end_subscription("p-2"));
  CHECK(reminders.subscribed_households().empty());
}

TEMPLATE_TEST_CASE("at most one reminder a side and changing time, with its messages", "[store]", Memory, Sqlite) {
  TestType engine;
  let_in(*engine.store, {"p-1", "p-2"});
  auto& reminders = engine.store->reminders();
  for (const char* account : {"p-1", "p-2"}) reminders.put_subscription(phone(account));
  CHECK(reminders.raise({"r-1", home, "left", at_second(500), at_second(10)}, {message("p-1", "left")}));
  CHECK_FALSE(reminders.raise({"r-2", home, "left", at_second(500), at_second(20)}, {message("p-2", "left")}));
  CHECK(reminders.raise({"r-3", home, "right", at_second(500), at_second(30)}, {message("p-1", "right", 0, true)}));
  CHECK(accounts_of(reminders.waiting(at_second(40), 10)) == Names{"p-1 right", "p-1 left"});
  CHECK(accounts_of(reminders.waiting(at_second(40), 1)) == Names{"p-1 right"});
  REQUIRE(reminders.open_reminders(home).size() == 2);
  CHECK(reminders.open_reminders(home)[0].id == "r-1");
  CHECK(reminders.phones_of("r-1") == Names{"p-1"});

  reminders.second("r-1", at_second(50), {message("p-2", "left")});
  CHECK(reminders.open_reminders(home)[0].seconded_at == at_second(50));
  CHECK(reminders.phones_of("r-1") == Names{"p-1", "p-2"});

  reminders.close("r-1", at_second(60));
  CHECK(reminders.open_reminders(home).size() == 1);
  CHECK_FALSE(
      reminders.raise({"r-4", home, "left", at_second(500), at_second(80)}, {}));  // not again for the same time
  reminders.forget_closed(at_second(61));
  CHECK(reminders.raise({"r-5", home, "left", at_second(500), at_second(90)}, {}));
}

TEMPLATE_TEST_CASE("a reminder that is taken back may be raised again for the same time", "[store]", Memory, Sqlite) {
  TestType engine;
  let_in(*engine.store, {"p-1"});
  auto& reminders = engine.store->reminders();
  reminders.put_subscription(phone("p-1"));
  REQUIRE(reminders.raise({"r-1", home, "left", at_second(500), at_second(10)}, {message("p-1", "left")}));
  REQUIRE(reminders.raise({"r-2", home, "right", at_second(500), at_second(10)}, {message("p-1", "right")}));
  // What still waits is replaced by what takes it away, under the same topic.
  reminders.take_back("r-1", {message("p-1", "left", 20)});
  REQUIRE(reminders.open_reminders(home).size() == 1);
  CHECK(reminders.open_reminders(home)[0].id == "r-2");
  CHECK(reminders.phones_of("r-1").empty());
  CHECK(accounts_of(reminders.waiting(at_second(19), 10)) == Names{"p-1 right"});  // in the place of what waited
  CHECK(accounts_of(reminders.waiting(at_second(20), 10)) == Names{"p-1 right", "p-1 left"});
  CHECK(reminders.raise({"r-3", home, "left", at_second(500), at_second(30)}, {}));
}

TEMPLATE_TEST_CASE("a message waits for its time, is tried again, and is gone once sent or too late", "[store]", Memory,
                   Sqlite) {
  TestType engine;
  let_in(*engine.store, {"p-1"});
  auto& reminders = engine.store->reminders();
  reminders.put_subscription(phone("p-1"));
  reminders.queue(message("p-1", "one", 100));
  CHECK(reminders.waiting(at_second(99), 10).empty());
  const auto first = reminders.waiting(at_second(100), 10).at(0);
  CHECK(first.to.endpoint == "https://push.example/p-1");
  CHECK(first.to.auth_secret == "auth");
  CHECK(first.attempts == 0);
  reminders.try_again(first.id, at_second(200));
  CHECK(reminders.waiting(at_second(199), 10).empty());
  const auto second = reminders.waiting(at_second(200), 10).at(0);
  CHECK(second.attempts == 1);
  reminders.sent(second, at_second(201));
  CHECK(reminders.waiting(at_second(300), 10).empty());
  CHECK(reminders.subscription("p-1")->sent_at == at_second(201));
  reminders.queue(message("p-1", "two", 300));
  CHECK(reminders.waiting(at_second(1000), 10).empty());  // expired
  reminders.queue(message("p-1", "three", 300));
  reminders.drop(reminders.waiting(at_second(300), 10).at(0).id);
  CHECK(reminders.waiting(at_second(300), 10).empty());
}

TEMPLATE_TEST_CASE("nothing of an erased household is left here", "[store]", Memory, Sqlite) {
  TestType engine;
  REQUIRE(engine.store->create_household({home, "{}", "k", at_second(0)}).outcome == Outcome::stored);
  let_in(*engine.store, {"p-1"});
  auto& reminders = engine.store->reminders();
  reminders.put_feed(feed("f-1"));
  reminders.put_subscription(phone("p-1"));
  REQUIRE(reminders.raise({"r-1", home, "left", at_second(500), at_second(10)}, {message("p-1", "left")}));
  REQUIRE(engine.store->erase({home, 0, {}, at_second(20), ""}).outcome == Outcome::stored);
  CHECK_FALSE(reminders.feed("hash of f-1"));
  CHECK(reminders.subscribed_households().empty());
  CHECK(reminders.open_reminders(home).empty());
  CHECK(reminders.waiting(at_second(30), 10).empty());
  CHECK(reminders.phones_of("r-1").empty());
}
