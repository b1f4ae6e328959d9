// SPDX-License-Identifier: MIT
#pragma once
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "model/duty/stimulator.hpp"
#include "server/json/field.hpp"

/// The stimulator profiles of `data/stimulators/*.json` (form: data/schema/stimulator.schema.json), read or
/// refused with the place and what would be right. Unknown fields are passed over.
///
/// Refused beyond the form: a gauge that does not fall, in percent or in volts; a cut-off that the set would
/// reach before the unit's warning; a rest current above the burst; a burst of nothing.
namespace cellarer {

/// Throws `json::Refused`.
duty::Stimulator read_stimulator(const json::Field& profile);

/// Steps for handling a unit, with their source. They are texts of the profile, nobody's computation.
struct Handling {
  bool approved = false;
  std::string source;
  std::string date;  ///< "2026-03-01"
  std::vector<std::string> steps;

  /// What may be shown: the steps once a technician has approved them, until then one sentence and
  /// nothing else.
  std::vector<std::string> shown() const;
};

/// The profile's "handling", or nothing approved where it has none. Throws `json::Refused`; approved steps
/// without source and date are refused.
Handling read_handling(const json::Field& profile);

/// Every profile of a folder, read at once; unchangeable afterwards, so any thread may ask.
class StimulatorLibrary {
 public:
  /// Throws `json::Refused` (its place begins with the file's name), also where two files have one id or the
  /// folder cannot be read.
  explicit StimulatorLibrary(const std::filesystem::path& folder);

  std::optional<duty::Stimulator> find(const std::string& id) const;
  std::optional<Handling> handling(const std::string& id) const;
  std::vector<std::string> ids() const;  ///< in alphabetical order

 private:
  struct Entry {
    duty::Stimulator stimulator;
    Handling handling;
  };
  std::map<std::string, Entry> entries_;
};

}  // namespace cellarer
