// SPDX-License-Identifier: MIT
// Who may do what. The expected table is what the agency's roles are for, written here by hand and not from the code:
// a home reads and records all of its own; a guest reads and records, and leaves settings, units, plans and phones
// alone; a planner reads and records stock; a technician reads and records units, settings and readings, reviews and
// keeps profiles; an administrator does what a home that phones in asks for, and looks after people; the operator sees
// no household.
#include "server/access/permissions.hpp"

#include <set>

#include "tests/support/catch.hpp"

using namespace cellarer::access;

namespace {

std::set<std::string> names(Role role) {
  const auto all = permissions_of(role);
  return {all.begin(), all.end()};
}

}  // namespace

TEST_CASE("each role may what its work needs, and nothing else", "[access]") {
  using Names = std::set<std::string>;
  CHECK(names(Role::guest) == Names{"signed-in", "read-household", "record-readings", "record-use", "record-stock"});
  CHECK(names(Role::household) == Names{"signed-in", "read-household", "export-household", "record-readings",
                                        "record-use", "record-stock", "record-setup", "record-plans", "see-phones",
                                        "end-phones", "invite", "make-sealed-code"});
  CHECK(names(Role::planner) == Names{"signed-in", "read-household", "record-stock", "see-phones", "end-phones",
                                      "invite", "list-households", "read-stock-ledger", "plan-rounds", "read-lots",
                                      "read-costs", "import", "export-agency", "manage-lots"});
  CHECK(names(Role::technician) == Names{"signed-in", "read-household", "record-readings", "record-setup",
                                         "list-households", "review", "keep-profiles", "read-lots", "manage-lots"});
  CHECK(names(Role::service_operator) == Names{"signed-in", "invite", "manage-agencies"});
  auto administrator = names(Role::administrator);
  CHECK(administrator.count("manage-agencies") == 0);
  for (const Role role : {Role::household, Role::guest, Role::planner, Role::technician}) {
    for (const auto& name : names(role)) CHECK(administrator.count(name) == 1);
  }
}

TEST_CASE("anyone may what needs no sign-in; names come back as the role they name", "[access]") {
  for (const Role role : all_roles) {
    CHECK(may(role, Permission::anyone));
    CHECK(role_named(name_of(role)) == role);
  }
  CHECK_FALSE(role_named("root"));
}

TEST_CASE("nobody invites to more than they may look after", "[access]") {
  const std::set<std::pair<Role, Role>> expected{
      {Role::household, Role::household},         {Role::household, Role::guest},
      {Role::planner, Role::household},           {Role::planner, Role::guest},
      {Role::administrator, Role::household},     {Role::administrator, Role::guest},
      {Role::administrator, Role::planner},       {Role::administrator, Role::technician},
      {Role::administrator, Role::administrator}, {Role::service_operator, Role::administrator}};
  for (const Role inviting : all_roles) {
    for (const Role invited : all_roles) {
      CHECK(may_invite(inviting, invited) == (expected.count({inviting, invited}) == 1));
    }
  }
}
