// SPDX-License-Identifier: MIT
#include "server/commands/cell_files.hpp"

#include <filesystem>
#include <set>
#include <stdexcept>

#include "server/commands/read_text.hpp"
#include "server/profiles/cell_file.hpp"

namespace cellarer::commands {

cell::PublishedCell read_cell_path(const std::string& path) {
  const std::string text = read_text(path);
  try {
    return read_cell_file(text);
  } catch (const json::Refused& refused) {
    throw std::runtime_error(path + ": " + refused.what());
  }
}

std::vector<cell::PublishedCell> read_cell_folder(const std::string& folder) {
  std::set<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".json") names.insert(entry.path().string());
  }
  if (names.empty()) throw std::runtime_error("no cell files (*.json) in " + folder);
  std::vector<cell::PublishedCell> cells;
  cells.reserve(names.size());
  for (const std::string& name : names) cells.push_back(read_cell_path(name));
  return cells;
}

}  // namespace cellarer::commands
