// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string_view>

/// Who is behind an account. A role is a kind of work, never a person.
namespace cellarer::access {

enum class Role {
  household,         ///< a phone of the household: the caregiver's, the wearer's
  guest,             ///< a phone that reads and records in set hours until an end date: a school nurse, a grandparent
  planner,           ///< of an agency: who plans deliveries and visits
  technician,        ///< of an agency: who sets up units
  administrator,     ///< of an agency: its people, its households
  service_operator,  ///< who runs the service: makes agencies, and sees into no household
};

inline constexpr Role all_roles[] = {Role::household,  Role::guest,         Role::planner,
                                     Role::technician, Role::administrator, Role::service_operator};

/// As it is written: "household", "guest", "planner", "technician", "administrator", "operator".
const char* name_of(Role role);
std::optional<Role> role_named(std::string_view name);

/// A phone belongs to one household; everybody else signs in by passkey.
inline bool is_phone(Role role) { return role == Role::household || role == Role::guest; }
/// Phones and staff belong to an agency; the operator to none.
inline bool has_agency(Role role) { return role != Role::service_operator; }

}  // namespace cellarer::access
