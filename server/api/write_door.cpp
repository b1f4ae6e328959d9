// SPDX-License-Identifier: MIT
#include "server/api/write_door.hpp"

#include <algorithm>

#include "server/json/utf8.hpp"

namespace cellarer::api {

using json::Field;

namespace {

constexpr std::chrono::minutes clocks_differ{10};

/// A phone's label is how a home knows who recorded: no phone says another. Staff may, for whoever told them.
std::string read_who(const Request& request, const Field& body) {
  const auto who = body.find("who");
  auto said = who ? who->text(80) : "";
  if (request.principal && access::is_phone(request.principal->role)) return request.principal->label;
  if (who) return said;
  const auto label = header(request, "cellarer-who");
  if (!label) return request.principal ? request.principal->label : "";
  if (!json::is_utf8(*label)) {
    throw Problem(ProblemCode::bad_request,
                  "The header Cellarer-Who is not UTF-8: say who in the body, or leave it out.");
  }
  const nlohmann::json value = *label;
  return Field(value, "Cellarer-Who").text(80);
}

}  // namespace

service::Write Incoming::write(const char* kind, Instant at) const {
  return {household, kind, at, who, document.dump(), key, std::nullopt, account};
}

std::string require_key(const Request& request) {
  const auto key = header(request, "idempotency-key");
  if (!key || key->empty()) {
    throw Problem(
        ProblemCode::missing_key,
        "Send a header Idempotency-Key with a new random value for each thing recorded, so that one sent twice "
        "is stored once.");
  }
  const bool printable = std::all_of(key->begin(), key->end(), [](char c) { return c > 0x20 && c < 0x7f; });
  if (key->size() > 200 || !printable) {
    throw Problem(ProblemCode::missing_key, "The Idempotency-Key is at most 200 printable characters without spaces.");
  }
  return *key;
}

Incoming open_door(const Context& context, const Request& request, const Parts& parts) {
  Incoming incoming;
  incoming.key = require_key(request);
  incoming.household = parts.at("household");
  context.households.last_entry(incoming.household);  // an unknown household is said before the body's faults
  incoming.document = json::parse(request.body);
  const Field body(incoming.document, "");
  if (!incoming.document.is_object()) body.refuse("wrong-type", "expected an object");
  incoming.who = read_who(request, body);
  if (request.principal) incoming.account = request.principal->account;
  return incoming;
}

bool lies_ahead(Instant at, Instant now) { return at > now + clocks_differ; }

void ask_about_future(const Field& body, Instant at, Instant now) {
  if (!lies_ahead(at, now)) return;
  if (const auto confirmed = body.find("confirmed")) {
    for (const Field& code : confirmed->elements(10)) {
      if (code.text(40) == "future-date") return;
    }
  }
  const char* place = body.find("at") ? "/at" : "/from";
  throw Problem(ProblemCode::future_date,
                "This time has not come yet. Mend it, or send it again with \"confirmed\": [\"future-date\"] if it is "
                "right: it then counts from that time on.",
                {{place, "future-date", "lies in the future"}});
}

}  // namespace cellarer::api
