// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "server/access/role.hpp"

/// Who may do what: one table, permission by role. Each route names the permission it needs (server/api/routes.cpp)
/// and the dispatcher asks here, in one place. Which household is another question: a phone's own, or one of the
/// agency's.
namespace cellarer::access {

enum class Permission {
  anyone,            ///< without signing in
  signed_in,         ///< one's own session and passkeys, profiles of cells and units
  read_household,    ///< forecast, chart, entries, what a form needs
  export_household,  ///< the household whole
  record_readings,   ///< what was seen on a unit
  record_use,        ///< cells changed, hours paced instead, a side off, stock used or thrown away
  record_stock,      ///< counted, received
  record_setup,      ///< units, settings
  record_plans,      ///< stays, visits, hospital, more pacing, and their ends
  see_phones,        ///< which phones a household has
  end_phones,
  invite,            ///< whom: see `may_invite`
  make_sealed_code,  ///< the recovery code that a household keeps in an envelope
  list_households,
  create_household,
  erase_household,
  manage_accounts,  ///< staff of the agency, and their sessions
  read_audit,
  read_stock_ledger,
  plan_rounds,    ///< the planner's list, rounds and the agency's own stock
  review,         ///< the technician's bench: histories, findings, units, lots, worn parts
  keep_profiles,  ///< propose profiles, and approve those of others
  read_lots,      ///< where a lot is, who used it, whom to call
  read_costs,     ///< waste, and what a limit of risk costs: never a household's
  import_tables,  ///< households, items and counts at once
  export_agency,  ///< the same, and what all forecasts say, as tables
  manage_lots,    ///< recalls, corrected numbers, and that a home was called
  enter_help,     ///< the number to call and the words for when something is wrong
  manage_agencies,
};

/// As it is written: "read-household".
const char* name_of(Permission permission);

bool may(Role role, Permission permission);

/// All that a role may, by name, in the order of the table.
std::vector<std::string> permissions_of(Role role);

/// Whom a role may invite: a household's phone another of its household; planner and administrator phones; an
/// administrator staff of the agency; the operator the first administrator of an agency.
bool may_invite(Role inviting, Role invited);

}  // namespace cellarer::access
