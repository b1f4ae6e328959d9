// SPDX-License-Identifier: MIT
#include "server/api/openapi.hpp"

#include <algorithm>

#include "server/access/cookie.hpp"
#include "server/api/routes.hpp"
#include "server/api/schemas.hpp"

namespace cellarer::api {

namespace {

nlohmann::json reference(const char* schema) { return {{"$ref", std::string("#/components/schemas/") + schema}}; }
nlohmann::json content(const char* type, const char* schema) { return {{type, {{"schema", reference(schema)}}}}; }

nlohmann::json header_parameter(const char* name, const char* description, bool required) {
  return {{"name", name},
          {"in", "header"},
          {"required", required},
          {"description", description},
          {"schema", {{"type", "string"}, {"maxLength", 200}}}};
}

nlohmann::json query_parameter(const std::string& name) {
  nlohmann::json parameter{{"name", name}, {"in", "query"}, {"required", name == "side" || name == "lot"}};
  if (name == "side") parameter["schema"] = {{"enum", {"left", "right"}}};
  if (name == "lot" || name == "item") parameter["schema"] = {{"type", "string"}, {"maxLength", 60}};
  if (name == "months") parameter["schema"] = {{"type", "integer"}, {"minimum", 1}, {"maximum", 36}, {"default", 6}};
  if (name == "cursor") parameter["schema"] = {{"type", "string"}};
  if (name == "limit") parameter["schema"] = {{"type", "integer"}, {"minimum", 1}, {"maximum", 200}, {"default", 50}};
  return parameter;
}

/// The names in braces.
std::vector<std::string> parts_of(const std::string& path) {
  std::vector<std::string> names;
  for (auto open = path.find('{'); open != std::string::npos; open = path.find('{', open + 1)) {
    names.push_back(path.substr(open + 1, path.find('}', open) - open - 1));
  }
  return names;
}

nlohmann::json parameters_of(const Route& route) {
  auto parameters = nlohmann::json::array();
  for (const auto& name : parts_of(route.path)) {
    parameters.push_back({{"name", name}, {"in", "path"}, {"required", true}, {"schema", {{"type", "string"}}}});
  }
  for (const char* name : route.query) parameters.push_back(query_parameter(name));
  if (route.takes == nullptr || !route.keeps) return parameters;
  parameters.push_back(header_parameter("Idempotency-Key", "A new random value for each thing recorded", true));
  if (parts_of(route.path).empty()) return parameters;
  parameters.push_back(header_parameter("Cellarer-Who", "Label of the phone, where the body does not say who", false));
  parameters.push_back(header_parameter(
      "Prefer", "return=minimal: answer with the entry alone; return=representation: with the household too", false));
  return parameters;
}

/// Problems by status; several of one status are named in one description.
void add_problems(nlohmann::json& responses, const Route& route) {
  using enum ProblemCode;
  std::vector<ProblemCode> codes = route.problems;
  if (route.takes != nullptr) {
    codes.insert(codes.end(),
                 {not_json, missing, wrong_type, out_of_range, too_long, body_too_large, store_unavailable});
    if (route.keeps) codes.insert(codes.end(), {missing_key, key_reused});
  } else if (!route.query.empty()) {
    codes.insert(codes.end(), {missing, out_of_range});
  }
  if (route.needs != access::Permission::anyone) codes.insert(codes.end(), {not_signed_in, not_allowed});
  if (std::string(route.method) != "GET") codes.push_back(cross_site);
  codes.push_back(busy);
  for (const ProblemCode code : codes) {
    const ProblemKind& kind = kind_of(code);
    nlohmann::json& response = responses[std::to_string(kind.status)];
    const std::string before = response.is_null() ? "" : response["description"].get<std::string>() + ", ";
    response = {{"description", before + kind.name}, {"content", content("application/problem+json", "Problem")}};
  }
}

nlohmann::json operation(const Route& route) {
  nlohmann::json document{{"operationId", route.name}, {"summary", route.summary}};
  if (auto parameters = parameters_of(route); !parameters.empty()) document["parameters"] = std::move(parameters);
  if (route.takes != nullptr) {
    document["requestBody"] = {{"required", true}, {"content", content("application/json", route.takes)}};
  }
  nlohmann::json responses;
  nlohmann::json& done = responses[std::to_string(route.success)];
  done["description"] = route.summary;
  if (route.gives != nullptr) done["content"] = content(route.media_type, route.gives);
  if (std::string(route.method) == "GET") responses["304"] = {{"description", "The version named in If-None-Match"}};
  add_problems(responses, route);
  if (route.needs == access::Permission::anyone)
    document["security"] = nlohmann::json::array();
  else
    document["description"] = std::string("Needs the permission ") + name_of(route.needs) + ".";
  document["responses"] = std::move(responses);
  return document;
}

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
  return text;
}

}  // namespace

nlohmann::json openapi_document() {
  nlohmann::json paths = nlohmann::json::object();
  for (const Route& route : routes()) {
    paths[std::string("/api/v1") + route.path][lower(route.method)] = operation(route);
  }
  return {
      {"openapi", "3.1.0"},
      {"info",
       {{"title", "Cellarer"},
        {"version", "1"},
        {"description",
         "Forecasts of cells and stock for households with a pacing stimulator. An estimate. The unit's own alarm "
         "comes first: act on it at once."},
        {"license", {{"name", "MIT"}, {"identifier", "MIT"}}}}},
      {"paths", std::move(paths)},
      {"security", {{{"session", nlohmann::json::array()}}}},
      {"components",
       {{"schemas", component_schemas()},
        {"securitySchemes", {{"session", {{"type", "apiKey"}, {"in", "cookie"}, {"name", access::cookie_name}}}}}}}};
}

}  // namespace cellarer::api
