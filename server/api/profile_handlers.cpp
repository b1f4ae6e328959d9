// SPDX-License-Identifier: MIT
#include "server/api/handlers.hpp"
#include "server/api/household_page.hpp"

namespace cellarer::api {

namespace {

/// The operator belongs to no agency.
std::shared_ptr<const service::Libraries> libraries_for(const Context& context, const Request& request) {
  return context.households.profiles().libraries_of(request.principal->agency);
}

}  // namespace

Response get_cell_profiles(const Context& context, const Request& request, const Parts&) {
  return json_response({{"profiles", cell_profiles_document(*libraries_for(context, request))}});
}

Response get_stimulators(const Context& context, const Request& request, const Parts&) {
  auto profiles = nlohmann::json::array();
  const auto known = libraries_for(context, request);
  const auto& libraries = *known;
  for (const auto& id : libraries.stimulator_ids()) {
    const auto stimulator = libraries.stimulator(id);
    if (!stimulator) continue;
    profiles.push_back({{"id", id}, {"basis", stimulator->basis}, {"cells_in_series", stimulator->cells_in_series}});
  }
  return json_response({{"profiles", profiles}});
}

Response get_stimulator(const Context& context, const Request& request, const Parts& parts) {
  const auto& id = parts.at("stimulator");
  const auto document = libraries_for(context, request)->stimulator_document(id);
  if (!document) throw Problem(ProblemCode::unknown_profile, "There is no stimulator profile of that name.");
  return json_response(*document);
}

}  // namespace cellarer::api
