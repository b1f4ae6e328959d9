// SPDX-License-Identifier: MIT
#pragma once
#include <set>
#include <string>
#include <vector>

#include "server/json/field.hpp"
#include "server/service/import.hpp"

namespace cellarer::api {

/// What an import brings: {"files": [{"kind", "name"?, "csv" or "csv_base64"}], "accept"?: [code, ...]}
struct AskedImport {
  std::vector<service::TableFile> files;
  std::set<std::string> accepted;
};

/// Throws `json::Refused`; of the tables themselves nothing is read yet.
AskedImport read_import_request(const json::Field& body);

}  // namespace cellarer::api
