// SPDX-License-Identifier: MIT
#pragma once
#include <memory>

#include "server/store/store.hpp"

namespace cellarer::store {

/// The store in memory: forgets everything at its end. For tests, and as the shortest reading of the
/// contract.
std::unique_ptr<Store> open_memory_store();

}  // namespace cellarer::store
