// SPDX-License-Identifier: MIT
#include "server/api/import_request.hpp"

#include "server/api/base64.hpp"

namespace cellarer::api {

using cellarer::json::Field;

namespace {

constexpr std::size_t most_files = 6, longest_table = std::size_t{4} << 20;

/// A table's text: line ends and all, which other texts may not hold.
std::string bytes_of(const Field& file) {
  const auto plain = file.find("csv");
  const auto coded = file.find("csv_base64");
  if (!plain && !coded) throw cellarer::json::Refused("missing", file.place() + "/csv", "is required, or csv_base64");
  const Field& given = plain ? *plain : *coded;
  if (!given.value().is_string()) given.refuse("wrong-type", "expected the table's text");
  const auto& text = given.value().get_ref<const std::string&>();
  if (text.size() > longest_table) given.refuse("too-long", "is too long: take the table in in parts");
  if (plain) return text;
  const auto bytes = from_base64(text);
  if (!bytes) given.refuse("out-of-range", "is no base64 (RFC 4648)");
  return *bytes;
}

}  // namespace

AskedImport read_import_request(const Field& body) {
  static constexpr std::initializer_list<const char*> kinds{"households", "items", "counts"};
  AskedImport asked;
  for (const Field& file : body["files"].elements(most_files)) {
    service::TableFile table;
    const auto kind = file["kind"].word(kinds);
    table.kind = static_cast<service::TableKind>(kind);
    const auto name = file.find("name");
    table.name = name ? name->text(120) : std::string(std::data(kinds)[kind]) + ".csv";
    for (const auto& other : asked.files) {
      if (other.name == table.name) file.refuse("out-of-range", "has the name of another: give each its own");
    }
    table.bytes = bytes_of(file);
    asked.files.push_back(std::move(table));
  }
  if (asked.files.empty()) body["files"].refuse("out-of-range", "is empty: give at least one table");
  if (const auto accept = body.find("accept")) {
    for (const Field& code : accept->elements(10)) asked.accepted.insert(code.text(40));
  }
  return asked;
}

}  // namespace cellarer::api
