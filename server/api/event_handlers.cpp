// SPDX-License-Identifier: MIT
// What is recorded for a household, told to the pages that are open (server-sent events): two phones agree at once.
#include "server/access/access_service.hpp"
#include "server/access/guest_hours.hpp"
#include "server/api/handlers.hpp"

namespace cellarer::api {

namespace {

constexpr int retry_ms = 3000;  // how soon a page comes back that lost its stream

/// The number of the newest entry, at the beginning and whenever there is a newer one; until the session ends, the
/// guest's hours are over, or the household is erased.
class HouseholdEvents final : public EventSource {
 public:
  HouseholdEvents(const Context& context, const access::Principal& principal, std::string household,
                  std::optional<std::int64_t> known, std::unique_ptr<EventPlaces::Place> place)
      : context_(context),
        session_(principal.session),
        household_(std::move(household)),
        told_(known),
        place_(std::move(place)) {}

  void on_change(std::function<void()> wake) override {
    listening_ = context_.households.changes().listen(household_, [wake = std::move(wake)](const auto&) { wake(); });
  }

  std::optional<std::string> next() override {
    if (!is_let_in()) return std::nullopt;
    const auto newest = newest_entry();
    if (!newest) return std::nullopt;
    std::string text;
    if (!greeted_) text = "retry: " + std::to_string(retry_ms) + "\n\n";
    greeted_ = true;
    if (told_ == newest) return text;
    told_ = newest;
    const auto number = std::to_string(*newest);
    return text + "id: " + number + "\nevent: entry\ndata: {\"entry\":" + number + "}\n\n";
  }

 private:
  bool is_let_in() {
    const auto owner = context_.access.sessions().owner(session_);
    const Instant now = context_.households.clock().now();
    if (!owner || (owner->until && now >= *owner->until)) return false;
    return !owner->hours || (owner->zone != nullptr && access::within(*owner->hours, owner->zone, now));
  }

  std::optional<std::int64_t> newest_entry() {
    try {
      return context_.households.last_entry(household_);
    } catch (const std::exception&) {
      return std::nullopt;  // erased, or the store fails: the page comes back and hears which
    }
  }

  Context context_;
  std::string session_, household_;
  std::optional<std::int64_t> told_;
  std::unique_ptr<EventPlaces::Place> place_;
  std::unique_ptr<service::Changes::Listening> listening_;
  bool greeted_ = false;
};

/// The number that the page had heard of when its stream broke off (Last-Event-ID).
std::optional<std::int64_t> known_entry(const Request& request) {
  const auto sent = header(request, "last-event-id");
  if (!sent || sent->empty() || sent->size() > 15) return std::nullopt;
  if (sent->find_first_not_of("0123456789") != std::string::npos) return std::nullopt;
  return std::stoll(*sent);
}

}  // namespace

Response get_events(const Context& context, const Request& request, const Parts& parts) {
  const auto& household = parts.at("household");
  context.households.last_entry(household);  // an unknown household is said before the stream begins
  Response response;
  response.content_type = "text/event-stream";
  response.set("X-Accel-Buffering", "no");  // proxies that understand it pass each event on at once
  if (request.method == "HEAD") return response;
  auto place = context.event_places->enter(request.remote);
  if (!place) throw Problem(ProblemCode::busy, "Too many pages listen from here. This one asks every minute instead.");
  response.events =
      std::make_shared<HouseholdEvents>(context, *request.principal, household, known_entry(request), std::move(place));
  return response;
}

}  // namespace cellarer::api
