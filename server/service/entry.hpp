// SPDX-License-Identifier: MIT
#pragma once
#include "server/store/store.hpp"

/// Of the store, what the rooms above the service may know: an entry as it was recorded, and that the store
/// failed.
namespace cellarer::service {

using Entry = store::StoredEntry;
using store::StoreError;

}  // namespace cellarer::service
