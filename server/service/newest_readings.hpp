// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "server/service/household_record.hpp"
#include "server/store/store.hpp"

namespace cellarer::service {

/// Most of what is recorded is a reading of just now. One that is later than every change of cells, and no earlier than
/// any other reading, touches nothing else that is folded (fold.hpp): it is put behind the others, and the record is
/// what folding all entries anew would give, for a hundredth of the work.
///
/// `entries`: those since `record` was folded, in the order of recording. Answers whether all of them are such
/// readings; where one is not, the record is to be folded anew, and is as good as lost. Throws `json::Refused` where
/// one cannot be read.
bool add_newest_readings(HouseholdRecord& record, const std::vector<store::StoredEntry>& entries);

}  // namespace cellarer::service
