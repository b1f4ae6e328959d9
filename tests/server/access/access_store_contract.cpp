// SPDX-License-Identifier: MIT
// What any engine behind server/store/access_store.hpp must do. The expected behaviour is that header's text.
#include <memory>

#include "server/store/memory_store.hpp"
#include "server/store/sqlite_store.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/temporary_folder.hpp"

namespace {

using namespace cellarer;
using namespace cellarer::store;

Instant at(int seconds) { return Instant(std::chrono::seconds(1'800'000'000 + seconds)); }

struct Memory {
  std::unique_ptr<Store> store = open_memory_store();
  AccessStore& access = store->access();
};

struct Sqlite {
  cellarer::testing::TemporaryFolder folder;
  std::unique_ptr<Store> store = open_sqlite_store(folder.path() / file_name);
  AccessStore& access = store->access();
};

StoredAccount phone(const std::string& id, const std::string& household = "agency/h-1") {
  StoredAccount account;
  account.id = id;
  account.agency = "agency";
  account.household = household;
  account.role = "household";
  account.label = "Kitchen phone";
  account.created_at = at(0);
  return account;
}

StoredSession session(const std::string& id, const std::string& account) {
  StoredSession one;
  one.id = id;
  one.account = account;
  one.token_hash = "hash of " + id;
  one.signed_in_at = one.rotated_at = one.last_seen_at = at(10);
  one.expires_at = at(1000);
  return one;
}

/// A phone that has come in, with one session of the same name.
void bind(AccessStore& access, const StoredAccount& account) {
  access.invite(account, {"i-" + account.id, account.id, "", false, at(0), at(100)}, "code of " + account.id);
  REQUIRE(access.accept("code of " + account.id, {"", session(account.id, "")}, at(10)));
}

}  // namespace

TEMPLATE_TEST_CASE("sessions that ended long ago are removed, and no others", "[access]", Memory, Sqlite) {
  TestType engine;
  bind(engine.access, phone("a"));
  for (const char* id : {"ended", "over", "live"}) {
    auto one = session(id, "a");
    if (id == std::string("over")) one.expires_at = at(50);
    REQUIRE(engine.access.open_session(one, at(10)));
  }
  REQUIRE(engine.access.end_session("ended", "signed-out", {"a", at(60)}));
  CHECK(engine.access.remove_sessions_ended_before(at(50)) == 0);
  CHECK(engine.access.remove_sessions_ended_before(at(61)) == 2);
  std::vector<std::string> left;
  for (const auto& row : engine.access.sessions_changed_since(-1)) left.push_back(row.session.id);
  CHECK(left == std::vector<std::string>{"a", "live"});
}

TEST_CASE("what is done with invitations and agencies stands in the trail", "[access]") {
  const Sqlite engine;
  REQUIRE(engine.access.add_agency("north", {"", at(0)}));
  CHECK_FALSE(engine.access.add_agency("north", {"", at(1)}));
  auto desk = phone("d", "");
  desk.agency = "north";
  engine.access.invite(desk, {"i-d", "d", "", false, at(0), at(100)}, "code");
  REQUIRE(engine.access.withdraw("i-d", {"d", at(5)}));
  CHECK_FALSE(engine.access.withdraw("i-d", {"d", at(6)}));
  std::vector<std::string> actions;
  for (const auto& link : engine.store->audit("north", std::nullopt, 10)) actions.push_back(link.action);
  CHECK(actions == std::vector<std::string>{"withdrawn", "invited", "agency-made"});
}

TEMPLATE_TEST_CASE("an invitation binds once, in its time, and its account is as invited", "[access]", Memory, Sqlite) {
  TestType engine;
  auto guest = phone("g");
  guest.role = "guest";
  guest.hours = StoredAccount::Hours{480, 900};
  guest.zone = "Europe/Oslo";
  guest.until = at(5000);
  engine.access.invite(guest, {"i", "g", "by", true, at(0), at(100)}, std::string("\0code", 5));
  CHECK_FALSE(engine.access.invitation("other"));
  const auto found = engine.access.invitation(std::string("\0code", 5)).value();
  CHECK(found.invitation.invited_by == "by");
  CHECK(found.invitation.without_passkey);
  CHECK(found.invitation.expires_at == at(100));
  CHECK_FALSE(found.account.bound_at);
  CHECK(engine.access.invitations("agency", "", at(50)).size() == 1);
  CHECK(engine.access.invitations("agency", "agency/h-1", at(50)).size() == 1);
  CHECK(engine.access.invitations("agency", "agency/h-2", at(50)).empty());
  CHECK(engine.access.invitations("other", "", at(50)).empty());
  CHECK(engine.access.invitations("agency", "", at(100)).empty());
  CHECK(engine.access.accounts("agency", "agency/h-1").empty());
  CHECK_FALSE(engine.access.accept(std::string("\0code", 5), {"", session("late", "")}, at(100)));
  const auto opened =
      engine.access.accept(std::string("\0code", 5), {"School phone", session("s", "")}, at(50)).value();
  CHECK(opened.session.account == "g");
  CHECK(opened.account.label == "School phone");
  CHECK(opened.account.hours->from_min == 480);
  CHECK(opened.account.hours->to_min == 900);
  CHECK(opened.account.zone == "Europe/Oslo");
  CHECK(opened.account.until == at(5000));
  CHECK_FALSE(engine.access.accept(std::string("\0code", 5), {"", session("twice", "")}, at(60)));
  CHECK(engine.access.invitations("agency", "", at(60)).empty());
  const auto phones = engine.access.accounts("agency", "agency/h-1");
  REQUIRE(phones.size() == 1);
  CHECK(phones.front().account.bound_at == at(50));
  CHECK(phones.front().last_seen_at == at(10));
}

TEMPLATE_TEST_CASE("an invitation that is taken back binds nobody", "[access]", Memory, Sqlite) {
  TestType engine;
  engine.access.invite(phone("a"), {"i", "a", "", false, at(0), at(100)}, "code");
  CHECK(engine.access.withdraw("i", {"by", at(10)}));
  CHECK_FALSE(engine.access.withdraw("i", {"by", at(10)}));
  CHECK_FALSE(engine.access.withdraw("none", {"by", at(10)}));
  CHECK_FALSE(engine.access.accept("code", {"", session("s", "")}, at(20)));
}

TEMPLATE_TEST_CASE("what changed of sessions is told once, in its order, of whoever changed it", "[access]", Memory,
                   Sqlite) {
  TestType engine;
  bind(engine.access, phone("a"));
  bind(engine.access, phone("b"));
  const auto all = engine.access.sessions_changed_since(-1);
  REQUIRE(all.size() == 2);
  CHECK(all[0].session.id == "a");
  CHECK(all[1].account.label == "Kitchen phone");
  auto newest = all[1].session.changed;
  CHECK(all[0].session.changed < newest);
  CHECK(engine.access.sessions_changed_since(newest).empty());
  engine.access.note_seen({{"a", at(30), std::nullopt}});
  CHECK(engine.access.sessions_changed_since(newest).empty());
  CHECK(engine.access.sessions_of("a", at(40)).front().last_seen_at == at(30));
  CHECK(engine.access.end_session("a", "signed-out", {"a", at(40)}));
  CHECK_FALSE(engine.access.end_session("a", "signed-out", {"a", at(40)}));
  const auto ended = engine.access.sessions_changed_since(newest);
  REQUIRE(ended.size() == 1);
  CHECK(ended.front().session.ended_at == at(40));
  CHECK(ended.front().session.ended_why == "signed-out");
  CHECK(engine.access.sessions_of("a", at(41)).empty());
  CHECK(engine.access.sessions_of("b", at(1000)).empty());
}

TEMPLATE_TEST_CASE("a new token keeps the one before until its follower was seen", "[access]", Memory, Sqlite) {
  TestType engine;
  bind(engine.access, phone("a"));
  auto turned = session("a", "a");
  turned.token_hash = "new";
  turned.previous_hash = "hash of a";
  turned.rotated_at = at(20);
  turned.expires_at = at(2000);
  const auto changed = engine.access.rotate(turned);
  CHECK(changed > 0);
  auto kept = engine.access.sessions_of("a", at(30)).front();
  CHECK(kept.token_hash == "new");
  CHECK(kept.previous_hash == "hash of a");
  CHECK_FALSE(kept.previous_until);
  CHECK(kept.changed == changed);
  engine.access.note_seen({{"a", at(31), at(331)}});
  CHECK(engine.access.sessions_of("a", at(32)).front().previous_until == at(331));
  engine.access.end_session("a", "over", {"", at(40)});
  CHECK(engine.access.rotate(turned) == 0);
}

TEMPLATE_TEST_CASE("an account ends with its sessions, invitations and keys, and does not come back", "[access]",
                   Memory, Sqlite) {
  TestType engine;
  bind(engine.access, phone("a"));
  bind(engine.access, phone("b"));
  engine.access.invite(phone("a"), {"again", "a", "", false, at(0), at(100)}, "again");
  engine.access.add_passkey({"credential", "a", "key", 0, false, false, false, at(20)}, {"a", at(20)});
  CHECK(engine.access.end_account("a", "by-phone", {"b", at(50)}));
  CHECK_FALSE(engine.access.end_account("a", "by-phone", {"b", at(50)}));
  CHECK(engine.access.account("a")->ended_why == "by-phone");
  CHECK(engine.access.accounts("agency", "agency/h-1").size() == 1);
  CHECK(engine.access.sessions_of("a", at(60)).empty());
  CHECK_FALSE(engine.access.accept("again", {"", session("s", "")}, at(60)));
  CHECK_FALSE(engine.access.open_session(session("s", "a"), at(60)));
  CHECK_FALSE(engine.access.passkey("credential"));
  CHECK(engine.access.open_session(session("s", "b"), at(60)));
}

TEMPLATE_TEST_CASE("a household's sealed code signs in one phone and signs out all others, once", "[access]", Memory,
                   Sqlite) {
  TestType engine;
  bind(engine.access, phone("a"));
  bind(engine.access, phone("b"));
  bind(engine.access, phone("other", "agency/h-2"));
  engine.access.replace_recovery_codes("", "agency/h-1", {{"OLD", "x", "", "agency/h-1", at(0)}}, {"a", at(0)});
  engine.access.replace_recovery_codes("", "agency/h-1", {{"NEW", "hash", "", "agency/h-1", at(5)}}, {"a", at(5)});
  CHECK_FALSE(engine.access.recovery_code("OLD"));
  CHECK(engine.access.recovery_code("NEW")->hash == "hash");
  auto finder = phone("c");
  finder.bound_at = at(60);
  REQUIRE(engine.access.recover_household("NEW", finder, session("c", "c"), at(60)));
  CHECK_FALSE(engine.access.recover_household("NEW", phone("d"), session("d", "d"), at(61)));
  CHECK_FALSE(engine.access.account("d"));
  const auto left = engine.access.accounts("agency", "agency/h-1");
  REQUIRE(left.size() == 1);
  CHECK(left.front().account.id == "c");
  CHECK(engine.access.account("a")->ended_why == "sealed-code");
  CHECK(engine.access.accounts("agency", "agency/h-2").size() == 1);
}

TEMPLATE_TEST_CASE("a staff member's recovery code is used up, and its use is remembered", "[access]", Memory, Sqlite) {
  TestType engine;
  bind(engine.access, phone("staff", ""));
  engine.access.replace_recovery_codes(
      "staff", "", {{"S1", "h1", "staff", "", at(0)}, {"S2", "h2", "staff", "", at(0)}}, {"staff", at(0)});
  REQUIRE(engine.access.recover("S1", session("s", "staff"), at(70)));
  CHECK_FALSE(engine.access.recover("S1", session("t", "staff"), at(71)));
  CHECK_FALSE(engine.access.recovery_code("S1"));
  CHECK(engine.access.recovery_code("S2"));
  CHECK(engine.access.account("staff")->recovery_used_at == at(70));
}

TEMPLATE_TEST_CASE("passkeys are found by their bytes and count", "[access]", Memory, Sqlite) {
  TestType engine;
  bind(engine.access, phone("staff", ""));
  const std::string credential("\0\x01id", 4);
  engine.access.add_passkey({credential, "staff", std::string("\0key", 4), 3, false, true, false, at(20)},
                            {"staff", at(20)});
  const auto found = engine.access.passkey(credential).value();
  CHECK(found.account == "staff");
  CHECK(found.cose_key == std::string("\0key", 4));
  CHECK(found.backup_eligible);
  CHECK_FALSE(found.user_verified);
  CHECK(found.sign_count == 3);
  auto used = found;
  used.sign_count = 4;
  used.user_verified = true;
  engine.access.passkey_used(used, at(30));
  CHECK(engine.access.passkeys("staff").front().sign_count == 4);
  CHECK(engine.access.passkeys("staff").front().user_verified);
  CHECK(engine.access.passkeys("staff").front().last_used_at == at(30));
  CHECK_FALSE(engine.access.passkey("id"));
}

TEMPLATE_TEST_CASE("agencies are made once, the first is there, and notes are replaced", "[access]", Memory, Sqlite) {
  TestType engine;
  CHECK(engine.access.has_agency("agency"));
  CHECK_FALSE(engine.access.has_agency("north"));
  CHECK(engine.access.add_agency("north", {"", at(0)}));
  CHECK_FALSE(engine.access.add_agency("north", {"", at(0)}));
  bind(engine.access, phone("a"));
  const auto sizes = engine.access.agencies();
  REQUIRE(sizes.size() == 2);
  CHECK(sizes[0].reference == "agency");
  CHECK(sizes[0].accounts == 1);
  CHECK(sizes[1].accounts == 0);
  CHECK_FALSE(engine.access.note("address"));
  engine.access.set_note("address", "one");
  engine.access.set_note("address", "two");
  CHECK(engine.access.note("address") == "two");
}
