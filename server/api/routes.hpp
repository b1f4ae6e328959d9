// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "server/access/permissions.hpp"
#include "server/api/forecast_cache.hpp"
#include "server/api/message.hpp"
#include "server/error.hpp"
#include "server/service/household_service.hpp"
#include "server/warnings.hpp"

/// Every address of the API in one table: the dispatcher, OPTIONS, 405 and the OpenAPI document are all made
/// from it, so that none can tell of an address that another does not know.
namespace cellarer::api {}  // namespace cellarer::api

namespace cellarer::access {
class AccessService;
}

namespace cellarer::service {
class PlannerDesk;
class ReviewBook;
class EffectBook;
}  // namespace cellarer::service

namespace cellarer::api {

struct PhoneServices;

/// What handlers work on.
struct Context {
  service::HouseholdService& households;
  ForecastCache& forecasts;
  const Forecaster& forecaster;
  access::AccessService& access;
  const Warnings* warnings = nullptr;      ///< for readiness
  service::PlannerDesk* desk = nullptr;    ///< rounds; none: where only households are served, as in tests
  service::ReviewBook* review = nullptr;   ///< the technician's
  service::EffectBook* effects = nullptr;  ///< of proposed profiles
  EventPlaces* event_places = nullptr;
  const PhoneServices* phone = nullptr;
};

/// The parts of the path in braces, by name.
using Parts = std::map<std::string, std::string>;

/// Where a handler runs. Only short reads run on an I/O thread; attempts to come in have a thread of their own, with a
/// short queue, so that a flood of them keeps nobody else waiting.
enum class Runs { io, compute, write, sign_in };

using Handler = Response (*)(const Context&, const Request&, const Parts&);
/// Answers from what is kept, on the I/O thread; none: the handler has to run.
using Shortcut = std::optional<Response> (*)(const Context&, const Request&, const Parts&);

struct Route {
  const char* method;
  const char* path;     ///< after /api/v1: "/households/{household}/forecast"
  const char* name;     ///< operationId
  const char* summary;  ///< one line
  access::Permission needs;
  Runs runs;
  Handler handler;
  Shortcut shortcut = nullptr;
  const char* takes = nullptr;  ///< schema of the body
  const char* gives = nullptr;  ///< schema of the answer; none: no content
  int success = 200;
  std::vector<const char*> query = {};          ///< names of query parameters
  std::vector<ProblemCode> problems = {};       ///< beside those that any request may get
  bool keeps = true;                            ///< what it takes is stored: it needs an Idempotency-Key
  const char* media_type = "application/json";  ///< of the answer
};

const std::vector<Route>& routes();

/// The methods of a path and, for the method asked for, its route with the parts of the path.
struct Match {
  const Route* route = nullptr;
  Parts parts;
  std::vector<std::string> methods;  ///< of this path, with HEAD and OPTIONS; empty: no such path
};

Match match(const std::string& method, const std::vector<std::string>& path);

}  // namespace cellarer::api
