// SPDX-License-Identifier: MIT
#pragma once
#include "server/access/access_service.hpp"

/// Codes that are printed and kept in a drawer: ten of a staff member's, used up one by one, and a household's sealed
/// one, which signs out all phones of the household but the one that types it. Stored as Argon2id hashes.
namespace cellarer::access {

struct RecoveryCodes {
  std::vector<store::StoredRecoveryCode> stored;
  std::vector<std::string> printed;  ///< "S-7K3MX-9QW2R-HT8VD-4NPCZ"
};

/// Ten for an account; not stored yet. A third of a second of computing.
RecoveryCodes draw_recovery_codes(AccessService& access, const std::string& account);

/// A new sealed code for a household, stored; the one before is void. As printed.
std::string make_sealed_code(AccessService& access, const Principal& by, const std::string& household_key);

/// Signs in by what was typed. Throws `not-signed-in`. On a thread that few share: 20 MB and tens of milliseconds.
AccessService::Opened recover(AccessService& access, const std::string& typed);

}  // namespace cellarer::access
