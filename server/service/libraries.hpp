// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "model/cell/profile.hpp"
#include "model/duty/stimulator.hpp"

namespace cellarer::service {

/// The profiles that records may name. The service reads them through this seam, so that a test needs no
/// files and no fit. Thread-safe. `cell` may fit on first use: never call it on an I/O thread.
class Libraries {
 public:
  virtual ~Libraries() = default;
  virtual std::optional<cell::Profile> cell(const std::string& id) const = 0;
  virtual std::vector<std::string> cell_ids() const = 0;
  virtual std::optional<duty::Stimulator> stimulator(const std::string& id) const = 0;
  /// The profile of one unit: measured values of its serial number, where there are some, before those of its model.
  virtual std::optional<duty::Stimulator> unit(const std::string& serial, const std::string& id) const {
    static_cast<void>(serial);
    return stimulator(id);
  }
  virtual std::vector<std::string> stimulator_ids() const = 0;
  /// The stimulator's file as it was read, for showing; none where the id is not known.
  virtual std::optional<nlohmann::json> stimulator_document(const std::string& id) const = 0;
  /// A cell file given inside an export, fitted. Throws `json::Refused` with places inside that document.
  virtual cell::Profile fit(const nlohmann::json& cell_file, const std::string& place) const = 0;
};

/// The profile that stands in for cells of unknown type.
inline constexpr const char* family_profile_id = "lr6-family";

}  // namespace cellarer::service
