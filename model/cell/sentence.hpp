// SPDX-License-Identifier: MIT
#pragma once
#include <string>

namespace cellarer::cell {

/// A short sentence with figures in it, by the form of printf; at most 299 characters, what is longer is cut.
[[gnu::format(printf, 1, 2)]] std::string sentence(const char* form, ...);

}  // namespace cellarer::cell
