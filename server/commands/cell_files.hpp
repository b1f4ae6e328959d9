// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/cell/published.hpp"

namespace cellarer::commands {

/// One cell file; "-" is standard input. Throws std::runtime_error that begins with the file's name: where there is
/// no such file, and where it breaks the form, with the place and what would be right.
cell::PublishedCell read_cell_path(const std::string& path);

/// Every *.json of a folder, by name. Throws as above, and where there is none.
std::vector<cell::PublishedCell> read_cell_folder(const std::string& folder);

}  // namespace cellarer::commands
