// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/cell/published.hpp"

namespace cellarer::commands {

/// One cell file; "-" is standard input. Throws `json::Refused` whose message begins with the file's name, and
/// std::runtime_error where there is no such file.
cell::PublishedCell read_cell_path(const std::string& path);

/// Every *.json of a folder, by name. Throws as above, and where there is none.
std::vector<cell::PublishedCell> read_cell_folder(const std::string& folder);

}  // namespace cellarer::commands
