// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "server/api/forecast_cache.hpp"
#include "server/api/message.hpp"
#include "server/error.hpp"
#include "server/service/household_service.hpp"

/// Every address of the API in one table: the dispatcher, OPTIONS, 405 and the OpenAPI document are all made
/// from it, so that none can tell of an address that another does not know.
namespace cellarer::api {

/// What handlers work on.
struct Context {
  service::HouseholdService& households;
  ForecastCache& forecasts;
  const Forecaster& forecaster;
};

/// The parts of the path in braces, by name.
using Parts = std::map<std::string, std::string>;

/// Where a handler runs. Only short reads run on an I/O thread.
enum class Runs { io, compute, write };

using Handler = Response (*)(const Context&, const Request&, const Parts&);
/// Answers from what is kept, on the I/O thread; none: the handler has to run.
using Shortcut = std::optional<Response> (*)(const Context&, const Request&, const Parts&);

struct Route {
  const char* method;
  const char* path;     ///< after /api/v1: "/households/{household}/forecast"
  const char* name;     ///< operationId
  const char* summary;  ///< one line
  Runs runs;
  Handler handler;
  Shortcut shortcut = nullptr;
  const char* takes = nullptr;  ///< schema of the body
  const char* gives = nullptr;  ///< schema of the answer
  int success = 200;
  std::vector<const char*> query = {};     ///< names of query parameters
  std::vector<ProblemCode> problems = {};  ///< beside those that any request may get
  bool keeps = true;                       ///< what it takes is stored: it needs an Idempotency-Key
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
