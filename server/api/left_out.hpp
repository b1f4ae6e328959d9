// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

/// Whom a list or a sum over the agency's homes leaves out. One home's record that cannot be read must not close the
/// agency's pages; but a recall that does not reach that home, or a sum without it, has to say so.
namespace cellarer::api {

/// References of those homes, after all were gone through.
inline nlohmann::json left_out(const Context& context, const Request& request) {
  return context.households.unreadable_of(request.principal->agency);
}

/// The same beside a table, which has no place for it: in the header Cellarer-Left-Out, where there are any.
inline Response with_left_out(const Context& context, const Request& request, Response response) {
  std::string names;
  for (const auto& household : context.households.unreadable_of(request.principal->agency))
    names += (names.empty() ? "" : ", ") + household;
  if (!names.empty()) response.set("Cellarer-Left-Out", names);
  return response;
}

}  // namespace cellarer::api
