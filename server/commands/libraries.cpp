// SPDX-License-Identifier: MIT
#include "server/commands/libraries.hpp"

#include <fstream>
#include <map>
#include <sstream>

#include "server/json/field.hpp"
#include "server/profiles/cell_library.hpp"
#include "server/profiles/stimulator_file.hpp"

namespace cellarer::commands {

namespace {

/// The files of a folder as they stand, by the id inside.
std::map<std::string, nlohmann::json> read_documents(const std::filesystem::path& folder) {
  std::map<std::string, nlohmann::json> documents;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() != ".json") continue;
    std::ifstream stream(entry.path(), std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    auto document = cellarer::json::parse(text.str());
    const auto id = document.value("id", "");
    documents[id] = std::move(document);
  }
  return documents;
}

class FileLibraries final : public service::Libraries {
 public:
  explicit FileLibraries(const std::filesystem::path& folder)
      : cells_(folder / "cells"),
        stimulators_(folder / "stimulators"),
        stimulator_documents_(read_documents(folder / "stimulators")) {}

  std::optional<cell::Profile> cell(const std::string& id) const override { return cells_.find(id); }
  std::vector<std::string> cell_ids() const override { return cells_.ids(); }
  std::optional<duty::Stimulator> stimulator(const std::string& id) const override { return stimulators_.find(id); }
  std::vector<std::string> stimulator_ids() const override { return stimulators_.ids(); }

  std::optional<nlohmann::json> stimulator_document(const std::string& id) const override {
    const auto found = stimulator_documents_.find(id);
    if (found == stimulator_documents_.end()) return std::nullopt;
    nlohmann::json document = found->second;
    // Steps that no technician has approved are not shown, here neither.
    if (const auto handling = stimulators_.handling(id)) document["handling"] = {{"shown", handling->shown()}};
    return document;
  }

  cell::Profile fit(const nlohmann::json& cell_file, const std::string& place) const override {
    try {
      return cells_.fit_document(cell_file);
    } catch (const cellarer::json::Refused& refused) {
      throw cellarer::json::Refused(refused.code(), place + refused.place(), refused.reason());
    }
  }

 private:
  mutable CellLibrary cells_;  ///< fits on first use, behind a lock of its own
  StimulatorLibrary stimulators_;
  std::map<std::string, nlohmann::json> stimulator_documents_;
};

}  // namespace

std::unique_ptr<service::Libraries> open_libraries(const std::filesystem::path& folder) {
  if (!std::filesystem::is_directory(folder / "cells") || !std::filesystem::is_directory(folder / "stimulators")) {
    throw std::runtime_error("no profiles in \"" + folder.string() +
                             "\": give --profiles a folder with cells/ and stimulators/");
  }
  return std::make_unique<FileLibraries>(folder);
}

std::filesystem::path usual_profiles() {
  std::error_code none;
#ifdef CELLARER_DATA_DIR
  if (std::filesystem::is_directory(CELLARER_DATA_DIR, none)) return CELLARER_DATA_DIR;
#endif
  const auto program = std::filesystem::read_symlink("/proc/self/exe", none);
  for (const char* way : {"data", "../data", "../../data", "../share/cellarer"}) {
    const auto folder = program.parent_path() / way;
    if (std::filesystem::is_directory(folder / "cells", none)) return std::filesystem::weakly_canonical(folder, none);
  }
  return {};
}

}  // namespace cellarer::commands
