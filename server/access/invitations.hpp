// SPDX-License-Identifier: MIT
#pragma once
#include "server/access/principal.hpp"
#include "server/store/access_store.hpp"

/// An invitation binds one phone, or one staff member's passkey, once and soon. Its code of 160 random bits stands in
/// the fragment of a link, which browsers do not send: it is in no log. The store has its hash only.
namespace cellarer::access {

/// Who is invited, as what.
struct Wish {
  Role role = Role::guest;
  std::string agency, household_key;  ///< as the role has them, else empty
  std::string label;
  std::optional<Hours> hours = std::nullopt;  ///< of a guest
  std::string zone = "";                      ///< the household's, for hours and end of a guest
  std::optional<Instant> until = std::nullopt;
  std::string invited_by = "";                        ///< account; empty: the command line
  bool without_passkey = false;                       ///< a program: signs in once, for a working day
  std::optional<std::string> account = std::nullopt;  ///< one that is there: a new passkey for it
};

struct Invited {
  std::string invitation, account, code;
  Instant expires_at;
};

Invited invite(store::AccessStore& store, const Wish& wish, Instant now);

/// "https://cells.example.org/in#<code>".
std::string invitation_link(const std::string& public_address, const std::string& code);

}  // namespace cellarer::access
