// SPDX-License-Identifier: MIT
#pragma once
#include "server/access/invitations.hpp"
#include "server/access/sessions.hpp"
#include "server/access/throttle.hpp"
#include "server/error.hpp"

namespace cellarer::access {

class Staff;

/// The use cases of letting in. What cannot be done is thrown as `Problem`. Thread-safe; all but `sessions().check` may
/// reach the store, and belongs on a worker.
class AccessService {
 public:
  AccessService(store::AccessStore& store, const Clock& clock);
  ~AccessService();

  /// Before it serves: what links begin with and passkeys are bound to, "https://cells.example.org". Noted in the store
  /// for `cellarer account`.
  void serve_at(const std::string& public_address);

  /// A session that has just been opened.
  struct Opened {
    Principal principal;
    Token token;
  };

  /// An invitation that can be accepted now. Throws `invitation-used-or-over`.
  store::InvitationRow open_invitation(const std::string& code);
  /// Staff, but for programs, make a passkey before they are let in.
  static bool needs_passkey(const store::InvitationRow& row);
  /// Binds a phone, or a program, to its account; `label` empty: as invited. Throws `invitation-used-or-over`.
  Opened accept(const std::string& code, const std::string& label);

  /// The same for staff, with the passkey and the recovery codes that were made for it.
  Opened bind_staff(const std::string& code, const store::StoredPasskey& passkey,
                    const std::vector<store::StoredRecoveryCode>& recovery_codes);
  /// A session of an account that has proved who it is. Throws `not-signed-in` where the account has ended.
  Opened open_session(const std::string& account);
  /// By a recovery code that fits, which is used up: a staff member's own account; or a new phone of the household, all
  /// others being signed out. None where somebody else was faster.
  std::optional<Opened> recover_staff(const store::StoredRecoveryCode& code);
  std::optional<Opened> recover_household(const store::StoredRecoveryCode& code);

  /// Ends one session. False where it is not there.
  bool end_session(const std::string& session, const std::string& why, const std::string& by);
  /// Ends an account with all its sessions. False where it is not there, or has ended.
  bool end_account(const std::string& account, const std::string& why, const std::string& by);

  Sessions& sessions() { return sessions_; }
  Throttle& throttle() { return throttle_; }
  /// How staff come in (staff.hpp).
  Staff& staff() { return *staff_; }
  store::AccessStore& store() { return store_; }
  const Clock& clock() const { return clock_; }
  const std::string& public_address() const { return public_address_; }

 private:
  Opened taken_up(const store::SessionRow& row, Token token);

  store::AccessStore& store_;
  const Clock& clock_;
  std::string public_address_;
  Sessions sessions_;
  Throttle throttle_;
  std::unique_ptr<Staff> staff_;
};

/// A link for the first administrator of the agency "agency", while nobody has come in there.
std::optional<std::string> first_administrator_link(AccessService& access);

}  // namespace cellarer::access
