// SPDX-License-Identifier: MIT
#include "server/api/access_bodies.hpp"

#include "server/access/role.hpp"
#include "server/access/secrets.hpp"
#include "server/push/endpoint.hpp"
#include "server/service/facts.hpp"

namespace cellarer::api {

using cellarer::json::Field;

namespace {

constexpr std::size_t longest_code = 100;

int read_clock(const Field& time) {
  const auto minutes = time.time_of_day();
  if (minutes == std::chrono::hours(24)) time.refuse("out-of-range", "expected 00:00 to 23:59");
  return static_cast<int>(minutes.count());
}

std::string read_bytes(const Field& text) {
  const auto bytes = access::from_base64url(text.text(200));
  if (!bytes) text.refuse("out-of-range", "expected base64url without padding");
  return *bytes;
}

}  // namespace

access::Role read_role(const Field& role) {
  const auto named = access::role_named(role.text(20));
  if (!named) role.refuse("out-of-range", "expected household, guest, planner, technician or administrator");
  return *named;
}

GuestTerms read_guest_terms(const Field& body) {
  GuestTerms terms;
  if (const auto hours = body.find("hours"))
    terms.hours = access::Hours{read_clock((*hours)["from"]), read_clock((*hours)["to"])};
  terms.until = service::read_time(body["until"]);
  return terms;
}

Acceptance read_acceptance(const Field& body) {
  Acceptance acceptance{body["code"].text(longest_code), ""};
  if (const auto label = body.find("label")) acceptance.label = label->text(80);
  return acceptance;
}

PushWish read_push_wish(const Field& body, const std::string& local_service) {
  const Field endpoint = body["endpoint"];
  PushWish wish{endpoint.text(1000), {}};
  if (!push::read_endpoint(wish.endpoint, local_service))
    endpoint.refuse("out-of-range", "expected an address that begins with https://, on its usual port");
  const Field keys = body["keys"];
  wish.keys = {read_bytes(keys["p256dh"]), read_bytes(keys["auth"])};
  if (!push::is_usable(wish.keys))
    keys.refuse("out-of-range", "are no keys for Web Push: a point of P-256 and 16 bytes");
  wish.part = body["part"].word({"first", "second"}) == 0 ? "first" : "second";
  return wish;
}

}  // namespace cellarer::api
