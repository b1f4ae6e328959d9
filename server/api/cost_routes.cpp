// SPDX-License-Identifier: MIT
#include "server/api/cost_routes.hpp"

#include "server/api/cost_handlers.hpp"

namespace cellarer::api {

namespace {

constexpr const char* costs = R"json({
  "Waste": {"type": "object", "required": ["as_of"], "properties": {"left_out": {"$ref": "#/components/schemas/LeftOut"}},
     "description": "where `computing` stands, not all homes are ready: ask again"},
  "RiskCurve": {"type": "object", "required": ["as_of"], "properties": {"left_out": {"$ref": "#/components/schemas/LeftOut"}},
     "description": "where `computing` stands, not all homes are ready: ask again"}
})json";

Route tells(const char* path, const char* name, const char* summary, Handler handler, const char* gives,
            std::vector<const char*> query = {}) {
  return {"GET",   path,  name, summary,         access::Permission::read_costs, Runs::compute, handler, nullptr,
          nullptr, gives, 200,  std::move(query)};
}

}  // namespace

nlohmann::json cost_schemas() { return nlohmann::json::parse(costs); }

std::vector<Route> cost_routes() {
  std::vector<Route> all{
      tells("/costs/waste", "waste", "Charge that was thrown away with sets, cells that expired", get_waste, "Waste",
            {"months"}),
      tells("/costs/risk-curve", "riskCurve", "Sets a year by limit of risk and changing times a day", get_risk_curve,
            "RiskCurve"),
  };
  return all;
}

}  // namespace cellarer::api
