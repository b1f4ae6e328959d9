// SPDX-License-Identifier: MIT
#include "tests/support/schema.hpp"

#include <algorithm>
#include <cmath>
#include <regex>

namespace cellarer::testing {

using nlohmann::json;

namespace {

bool is_of_type(const json& value, const std::string& type) {
  if (type == "object") return value.is_object();
  if (type == "array") return value.is_array();
  if (type == "string") return value.is_string();
  if (type == "boolean") return value.is_boolean();
  if (type == "null") return value.is_null();
  if (type == "number") return value.is_number();
  return value.is_number_integer() || (value.is_number() && value.get<double>() == std::floor(value.get<double>()));
}

bool is_of_types(const json& value, const json& types) {
  if (types.is_string()) return is_of_type(value, types.get<std::string>());
  return std::any_of(types.begin(), types.end(),
                     [&](const json& type) { return is_of_type(value, type.get<std::string>()); });
}

using Faults = std::vector<std::string>;

void check_size(const json& schema, const char* least, const char* most, std::size_t size, const std::string& place,
                Faults& faults) {
  if (schema.contains(least) && size < schema[least].get<std::size_t>()) faults.push_back(place + ": " + least);
  if (schema.contains(most) && size > schema[most].get<std::size_t>()) faults.push_back(place + ": " + most);
}

void check_number(const json& schema, double number, const std::string& place, Faults& faults) {
  if (schema.contains("minimum") && number < schema["minimum"].get<double>()) faults.push_back(place + ": minimum");
  if (schema.contains("maximum") && number > schema["maximum"].get<double>()) faults.push_back(place + ": maximum");
  if (schema.contains("exclusiveMinimum") && number <= schema["exclusiveMinimum"].get<double>()) {
    faults.push_back(place + ": exclusiveMinimum");
  }
}

void check_text(const json& schema, const std::string& text, const std::string& place, Faults& faults) {
  check_size(schema, "minLength", "maxLength", text.size(), place, faults);
  if (schema.contains("pattern") && !std::regex_search(text, std::regex(schema["pattern"].get<std::string>()))) {
    faults.push_back(place + ": pattern");
  }
}

void add(Faults& faults, const Faults& more) { faults.insert(faults.end(), more.begin(), more.end()); }

void check_object(const json& document, const json& schema, const json& value, const std::string& place,
                  Faults& faults) {
  for (const auto& name : schema.value("required", json::array())) {
    if (!value.contains(name.get<std::string>())) faults.push_back(place + ": lacks " + name.get<std::string>());
  }
  const json properties = schema.value("properties", json::object());
  for (const auto& [name, of_property] : properties.items()) {
    if (value.contains(name)) add(faults, schema_faults(document, of_property, value[name], place + "/" + name));
  }
}

/// How many of the schemas hold.
std::size_t holding(const json& document, const json& schemas, const json& value) {
  return static_cast<std::size_t>(std::count_if(schemas.begin(), schemas.end(), [&](const json& schema) {
    return schema_faults(document, schema, value).empty();
  }));
}

}  // namespace

Faults schema_faults(const json& document, const json& schema, const json& value, const std::string& place) {
  Faults faults;
  if (schema.contains("$ref")) {
    const json::json_pointer target(schema["$ref"].get<std::string>().substr(1));
    add(faults, schema_faults(document, document.at(target), value, place));
  }
  if (schema.contains("type") && !is_of_types(value, schema["type"])) return {place + ": type"};
  if (schema.contains("enum") &&
      std::find(schema["enum"].begin(), schema["enum"].end(), value) == schema["enum"].end()) {
    faults.push_back(place + ": enum");
  }
  if (schema.contains("const") && schema["const"] != value) faults.push_back(place + ": const");
  if (schema.contains("oneOf") && holding(document, schema["oneOf"], value) != 1) faults.push_back(place + ": oneOf");
  if (schema.contains("anyOf") && holding(document, schema["anyOf"], value) == 0) faults.push_back(place + ": anyOf");
  if (value.is_number()) check_number(schema, value.get<double>(), place, faults);
  if (value.is_string()) check_text(schema, value.get<std::string>(), place, faults);
  if (value.is_object()) check_object(document, schema, value, place, faults);
  if (value.is_array()) {
    check_size(schema, "minItems", "maxItems", value.size(), place, faults);
    if (schema.contains("items")) {
      for (std::size_t i = 0; i < value.size(); ++i) {
        add(faults, schema_faults(document, schema["items"], value[i], place + "/" + std::to_string(i)));
      }
    }
  }
  return faults;
}

}  // namespace cellarer::testing
