// SPDX-License-Identifier: MIT
#pragma once
#include <filesystem>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "model/cell/profile.hpp"

namespace cellarer {

/// The cell profiles of a folder of cell files. The folder is listed once, when the library is made; a file is
/// read and fitted when its cell is first asked for, and kept. Thread-safe; a fit takes milliseconds and runs in
/// the caller, so never call `find` or `fit_document` on an I/O thread.
class CellLibrary {
 public:
  /// A file is named after its cell's id: `<id>.json`. A folder that is not there has no cells.
  explicit CellLibrary(const std::filesystem::path& folder);

  /// None where there is no such cell. Throws `json::Refused` where its file breaks the form.
  std::optional<cell::Profile> find(const std::string& id);
  /// In alphabetical order.
  std::vector<std::string> ids() const;
  /// A cell file given inside another document. Throws `json::Refused` with places inside that cell file.
  cell::Profile fit_document(const nlohmann::json& document) const;

 private:
  std::map<std::string, std::filesystem::path> files_;
  std::mutex lock_;
  std::map<std::string, cell::Profile> fitted_;
};

}  // namespace cellarer
