// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>

namespace cellarer::service {

/// So many homes are kept folded, some 110 KB each with what their ended sets taught. Whoever goes through more than
/// these and comes back to none lets them go again (HouseholdService::let_go): they would take the place of one that
/// somebody asks for.
inline constexpr std::size_t most_homes_folded = 512;

}  // namespace cellarer::service
