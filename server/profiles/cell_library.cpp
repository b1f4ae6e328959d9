// SPDX-License-Identifier: MIT
#include "server/profiles/cell_library.hpp"

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <system_error>

#include "model/cell/runtime.hpp"
#include "server/profiles/cell_file.hpp"

namespace cellarer {

namespace {

std::string read_text(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  if (!stream) throw std::runtime_error("cannot read " + path.string());
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

}  // namespace

CellLibrary::CellLibrary(const std::filesystem::path& folder) {
  std::error_code none;
  for (const auto& entry : std::filesystem::directory_iterator(folder, none)) {
    if (entry.path().extension() == ".json") files_[entry.path().stem().string()] = entry.path();
  }
}

std::optional<cell::Profile> CellLibrary::find(const std::string& id) {
  const auto file = files_.find(id);
  if (file == files_.end()) return std::nullopt;
  const std::lock_guard<std::mutex> guard(lock_);
  if (const auto known = fitted_.find(id); known != fitted_.end()) return known->second;
  const cell::PublishedCell cell = read_cell_file(read_text(file->second));
  const cell::Profile profile = cell::make_profile(cell, cell::fit(cell));
  return fitted_.emplace(id, profile).first->second;
}

std::vector<std::string> CellLibrary::ids() const {
  std::vector<std::string> ids;
  for (const auto& [id, file] : files_) ids.push_back(id);
  return ids;
}

cell::Profile CellLibrary::fit_document(const nlohmann::json& document) const {
  const cell::PublishedCell cell = read_cell(json::Field(document, ""));
  return cell::make_profile(cell, cell::fit(cell));
}

}  // namespace cellarer
