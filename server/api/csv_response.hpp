// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/message.hpp"
#include "server/csv/writer.hpp"

namespace cellarer::api {

/// A table to be saved under that name.
inline Response csv_response(const csv::Writer& table, const std::string& file_name) {
  Response response;
  response.content_type = "text/csv; charset=utf-8";
  response.set("Content-Disposition", "attachment; filename=\"" + file_name + "\"");
  response.body = std::make_shared<const std::string>(table.text());
  return response;
}

}  // namespace cellarer::api
