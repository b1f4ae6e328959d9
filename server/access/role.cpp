// SPDX-License-Identifier: MIT
#include "server/access/role.hpp"

namespace cellarer::access {

const char* name_of(Role role) {
  switch (role) {
    case Role::household:
      return "household";
    case Role::guest:
      return "guest";
    case Role::planner:
      return "planner";
    case Role::technician:
      return "technician";
    case Role::administrator:
      return "administrator";
    case Role::service_operator:
      break;
  }
  return "operator";
}

std::optional<Role> role_named(std::string_view name) {
  for (const Role role : all_roles) {
    if (name == name_of(role)) return role;
  }
  return std::nullopt;
}

}  // namespace cellarer::access
