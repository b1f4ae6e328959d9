// SPDX-License-Identifier: MIT
#include "server/access/permissions.hpp"

#include <cassert>

namespace cellarer::access {

namespace {

struct Row {
  Permission permission;
  const char* name;
  const char* roles;  ///< a letter a role, in the order of `Role`; a point: may not
};

// h household, g guest, p planner, t technician, a administrator, o operator
constexpr Row table[] = {
    {Permission::anyone, "anyone", "hgptao"},
    {Permission::signed_in, "signed-in", "hgptao"},
    {Permission::read_household, "read-household", "hgpta."},
    {Permission::export_household, "export-household", "h...a."},
    {Permission::record_readings, "record-readings", "hg.ta."},
    {Permission::record_use, "record-use", "hg..a."},
    {Permission::record_stock, "record-stock", "hgp.a."},
    {Permission::record_setup, "record-setup", "h..ta."},
    {Permission::record_plans, "record-plans", "h...a."},
    {Permission::see_phones, "see-phones", "h.p.a."},
    {Permission::end_phones, "end-phones", "h.p.a."},
    {Permission::invite, "invite", "h.p.ao"},
    {Permission::make_sealed_code, "make-sealed-code", "h...a."},
    {Permission::list_households, "list-households", "..pta."},
    {Permission::create_household, "create-household", "....a."},
    {Permission::erase_household, "erase-household", "....a."},
    {Permission::manage_accounts, "manage-accounts", "....a."},
    {Permission::read_audit, "read-audit", "....a."},
    {Permission::read_stock_ledger, "read-stock-ledger", "..p.a."},
    {Permission::plan_rounds, "plan-rounds", "..p.a."},
    {Permission::review, "review", "...ta."},
    {Permission::keep_profiles, "keep-profiles", "...ta."},
    {Permission::read_lots, "read-lots", "..pta."},
    {Permission::read_costs, "read-costs", "..p.a."},
    {Permission::import_tables, "import", "..p.a."},
    {Permission::export_agency, "export-agency", "..p.a."},
    {Permission::manage_lots, "manage-lots", "..pta."},
    {Permission::enter_help, "enter-help", "....a."},
    {Permission::manage_agencies, "manage-agencies", ".....o"},
};

const Row& row_of(Permission permission) {
  const Row& row = table[static_cast<std::size_t>(permission)];
  assert(row.permission == permission);
  return row;
}

}  // namespace

const char* name_of(Permission permission) { return row_of(permission).name; }

bool may(Role role, Permission permission) { return row_of(permission).roles[static_cast<std::size_t>(role)] != '.'; }

std::vector<std::string> permissions_of(Role role) {
  std::vector<std::string> names;
  for (const Row& row : table) {
    if (row.permission != Permission::anyone && may(role, row.permission)) names.emplace_back(row.name);
  }
  return names;
}

bool may_invite(Role inviting, Role invited) {
  switch (inviting) {
    case Role::household:
    case Role::planner:
      return is_phone(invited);
    case Role::administrator:
      return has_agency(invited);
    case Role::service_operator:
      return invited == Role::administrator;
    case Role::guest:
    case Role::technician:
      break;
  }
  return false;
}

}  // namespace cellarer::access
