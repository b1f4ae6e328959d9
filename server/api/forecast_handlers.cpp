// SPDX-License-Identifier: MIT
#include "server/api/handlers.hpp"
#include "server/json/field.hpp"

namespace cellarer::api {

namespace {

/// The side asked for; there is no default, because the side is never assumed.
std::size_t asked_side(const Request& request) {
  const auto found = request.query.find("side");
  if (found == request.query.end()) throw json::Refused("missing", "?side", "is required: left or right");
  const nlohmann::json value = found->second;
  return json::Field(value, "?side").word({"left", "right"});
}

Response forecast_of(const Finished& finished) { return bytes_response(finished->forecast, finished->forecast_tag); }

Response chart_of(const Charts& made, std::size_t side) { return bytes_response(made->charts[side], made->tags[side]); }

}  // namespace

Response get_forecast(const Context& context, const Request&, const Parts& parts) {
  return forecast_of(context.forecasts.get(parts.at("household")));
}

std::optional<Response> kept_forecast(const Context& context, const Request&, const Parts& parts) {
  const auto kept = context.forecasts.ready(parts.at("household"));
  if (!kept) return std::nullopt;
  return forecast_of(kept);
}

Response get_chart(const Context& context, const Request& request, const Parts& parts) {
  const auto side = asked_side(request);
  return chart_of(context.forecasts.charts(parts.at("household")), side);
}

std::optional<Response> kept_chart(const Context& context, const Request& request, const Parts& parts) {
  const auto side = asked_side(request);
  const auto kept = context.forecasts.ready_charts(parts.at("household"));
  if (!kept) return std::nullopt;
  return chart_of(kept, side);
}

}  // namespace cellarer::api
