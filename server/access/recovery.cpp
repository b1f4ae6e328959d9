// SPDX-License-Identifier: MIT
#include "server/access/recovery.hpp"

#include "server/access/argon.hpp"
#include "server/access/secret_code.hpp"
#include "server/access/secrets.hpp"
#include "server/household_key.hpp"

namespace cellarer::access {

namespace {

constexpr int codes_each = 10;

/// One whose selector no unused code has.
SecretCode draw_free(AccessService& access, char kind) {
  for (;;) {
    auto code = draw_secret_code(kind);
    if (!access.store().recovery_code(code.selector)) return code;
  }
}

[[noreturn]] void not_this_code() {
  throw Problem(ProblemCode::not_signed_in,
                "This code is not one of ours, or it was used: each works once. Look at each letter again.");
}

}  // namespace

RecoveryCodes draw_recovery_codes(AccessService& access, const std::string& account) {
  RecoveryCodes codes;
  for (int i = 0; i < codes_each; ++i) {
    const auto code = draw_free(access, 'S');
    codes.stored.push_back({code.selector, hash_typed_code(code.letters), account, "", access.clock().now()});
    codes.printed.push_back(printed(code));
  }
  return codes;
}

std::string make_sealed_code(AccessService& access, const Principal& by, const std::string& household_key) {
  const auto code = draw_free(access, 'H');
  const Instant now = access.clock().now();
  access.store().replace_recovery_codes(
      "", household_key, {{code.selector, hash_typed_code(code.letters), "", household_key, now}}, {by.account, now});
  access.sessions().heed_changes();
  return printed(code);
}

AccessService::Opened recover(AccessService& access, const std::string& typed) {
  const auto code = read_secret_code(typed);
  if (!code) not_this_code();
  const auto found = access.store().recovery_code(code->selector);
  const bool fits = found && (code->kind == 'H') == !found->household.empty();
  if (!fits || !verify_typed_code(code->letters, found->hash)) not_this_code();
  const auto opened = found->household.empty() ? access.recover_staff(*found) : access.recover_household(*found);
  if (!opened) not_this_code();
  return *opened;
}

}  // namespace cellarer::access
