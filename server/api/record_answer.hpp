// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

namespace cellarer::api {

/// The answer to a write to this household (its key): {entry, questions, forecast}, and `packing` for a stay. Never an
/// error, as the fact is stored: where the rest cannot be made, the entry alone. One sent twice gets the same entry;
/// the forecast is always the present one, because an old one would mislead. With the header `Prefer: return=minimal`
/// (RFC 7240) the entry alone, for loading much at once; with `return=representation` the household's document too, so
/// that a page need not ask for it again.
Response answer_to(const Context& context, const Request& request, const std::string& household,
                   const service::Recorded& recorded);

}  // namespace cellarer::api
