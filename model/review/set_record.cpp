// SPDX-License-Identifier: MIT
#include "model/review/set_record.hpp"

namespace cellarer::review {

namespace {

/// Settings are often noted minutes or hours away from the change of cells that they came with. A twentieth of a set
/// moves what is seen of it by a twentieth of the difference that is looked for. An assumption.
constexpr double nearly_all = 0.95;

}  // namespace

const duty::Settings* SetRecord::settings_at_end() const {
  if (!settings) return nullptr;
  return changes.empty() ? &*settings : &changes.back().to;
}

const duty::Settings* SetRecord::drawn_under() const {
  if (!settings) return nullptr;
  const duty::Settings* under = &*settings;
  double since = 0;
  for (const auto& change : changes) {
    if (change.share_before - since >= nearly_all) return under;
    under = &change.to;
    since = change.share_before;
  }
  return 1 - since >= nearly_all ? under : nullptr;
}

}  // namespace cellarer::review
