// SPDX-License-Identifier: MIT
#pragma once
#include <string>

namespace cellarer::commands {

/// The bytes of a file that was named on the command line; "-" is standard input. Throws std::runtime_error that names
/// it.
std::string read_text(const std::string& path);

}  // namespace cellarer::commands
