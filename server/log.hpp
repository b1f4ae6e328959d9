// SPDX-License-Identifier: MIT
#pragma once

namespace cellarer {

/// Log lines go to standard error, as text or each as one JSON object. Once, before the first line.
void prepare_log(bool as_json);

}  // namespace cellarer
