// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <string>

#include "server/api/routes.hpp"

/// Pages ask for the same forecast again and again, in the same words. What was worked out from those words once (where
/// they lead, who asks, whether they may) need not be worked out again; what may have changed since must be looked at.
namespace cellarer::api {

struct Repeated {
  /// Whether the same request, byte for byte and from the same address, would be answered with the same bytes now: its
  /// session lives, unchanged, and is due for no new token; the household is there, the clock is right, and the kept
  /// forecast is the one of then, not out of date. Notes that its sender was seen. From any thread; short. None: do not
  /// ask, let it be answered anew. The token is the request's: it is not kept here.
  std::function<bool(const std::string& token)> still_so;
  std::string token;
};

/// Of an answer that was given from memory.
Repeated repeated(const Context& context, const Request& request, const Response& response);

}  // namespace cellarer::api
