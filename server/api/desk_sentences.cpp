// SPDX-License-Identifier: MIT
#include "server/api/desk_sentences.hpp"

#include <algorithm>

#include "model/life/words.hpp"
#include "server/api/sentences.hpp"
#include "server/service/desk_kinds.hpp"

namespace cellarer::api {

namespace desk = service::desk;

namespace {

std::string about_words(const std::string& about) { return about == "unit_trouble" ? "Unit trouble" : "Running short"; }

std::string number_of(std::size_t count, const char* one, const char* many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

std::string packs_of(int packs, const std::string& item) {
  return number_of(static_cast<std::size_t>(packs), "pack", "packs") + " of " + item;
}

std::string stop_place_text(const nlohmann::json& body) {
  std::string text = "Area " + body.value("area", "");
  const auto stop = body.find("stop");
  if (stop != body.end() && stop->is_string()) text += ", stop " + stop->get<std::string>();
  return text + ".";
}

std::string planned_text(const nlohmann::json& body) {
  std::string text;
  for (const auto& line : body.value("lines", nlohmann::json::array()))
    text += (text.empty() ? "" : ", ") + packs_of(line.value("packs", 0), line.value("item", ""));
  return "A delivery is planned on " + body.value("round", "") + ": " + text + ".";
}

std::string settled_entry_text(const nlohmann::json& body) {
  const std::string round = body.value("round", ""), packs = body.value("packs", "");
  if (packs == "came_back") return "What did not come of " + round + " is back in the agency's store.";
  if (packs == "lost") return "What did not come of " + round + " is lost: the agency has written it off.";
  return "What was said of the packs of " + round + " that did not come was taken back.";
}

std::string decision_text(const nlohmann::json& body) {
  const auto stop = body.find("stop");
  const std::string round = body.value("round", "");
  if (stop == body.end() || !stop->is_boolean()) return "What was decided of a stop on " + round + " was taken back.";
  return stop->get<bool>() ? "Decided: a stop on " + round + "." : "Decided: no stop on " + round + ".";
}

}  // namespace

std::string desk_entry_text(const std::string& kind, const nlohmann::json& body) {
  if (kind == desk::message) return about_words(body.value("about", "")) + ": told the agency.";
  if (kind == desk::message_seen)
    return "The agency has seen entry " + std::to_string(body.value("entry", std::int64_t{0})) + ".";
  if (kind == desk::ask) return "The agency asked for a count.";
  if (kind == desk::stop_place) return stop_place_text(body);
  if (kind == desk::closed) return "Closed: no more deliveries and reminders.";
  if (kind == desk::reopened) return "Open again.";
  if (kind == desk::planned_delivery) return planned_text(body);
  if (kind == desk::delivery_withdrawn) return "No delivery on " + body.value("round", "") + ".";
  if (kind == desk::delivery_settled) return settled_entry_text(body);
  if (kind == desk::stop_decision) return decision_text(body);
  const bool came = body.value("answer", "") == "received";
  return "The delivery of " + body.value("round", "") + (came ? " was received." : " did not come.");
}

std::string message_text(const service::DeskMessage& message, Instant now, Zone zone) {
  if (!message.seen_at) return about_words(message.about) + ": not seen by the agency yet. Call.";
  const bool today = stock::date_in(zone, *message.seen_at) == stock::date_in(zone, now);
  const std::string when = when_text(*message.seen_at, now, zone);
  const std::string at = "at " + life::clock_words(*message.seen_at, zone);
  return about_words(message.about) + ": seen by the agency " + (today ? at : when) + ".";
}

std::string delivery_text(const service::DeskDelivery& delivery, service::DeliveryState state, stock::Date today) {
  using enum service::DeliveryState;
  const std::string day = date_text(delivery.date, today);
  switch (state) {
    case planned:
    case loaded:
      return "A delivery is planned for " + day + ".";
    case left:
      return "A delivery is on its way. Say here when it has come: only then does it count as stock.";
    case no_answer:
      return "A delivery was to come on " + day + ". Has it come? Until somebody says so it does not count as stock.";
    case received:
      return "The delivery of " + day + " was received.";
    case not_received:
      return "The delivery of " + day + " did not come.";
    case withdrawn:
      break;
  }
  return "There is no delivery on " + day + ".";
}

std::string settled_text(const service::DeskDelivery& delivery) {
  const std::string text =
      settled_entry_text({{"round", delivery.round}, {"packs", service::name_of(delivery.whereabouts)}});
  const bool odd = delivery.whereabouts == service::Whereabouts::came_back &&
                   std::any_of(delivery.settled.begin(), delivery.settled.end(),
                               [](const auto& lot) { return lot.pieces % lot.pieces_per_pack != 0; });
  return odd ? text + " Pieces of a pack that is not whole are written off." : text;
}

std::string left_text(const rounds::Left& left, stock::Date today) {
  std::string text =
      left.household + ": " + packs_of(left.packs, left.item) + " to be there by " + date_text(left.deliver_by, today);
  if (left.late_on) return text + " would come on " + date_text(*left.late_on, today) + ".";
  return text + " would not come within this plan.";
}

std::string remedy_text(const rounds::Remedy& remedy, stock::Date today) {
  std::string text;
  switch (remedy.kind) {
    case rounds::RemedyKind::extra_stop:
      text = "One stop more on " + remedy.round;
      break;
    case rounds::RemedyKind::other_areas_round:
      text = "A stop on " + remedy.round + ", of " + remedy.area;
      break;
    case rounds::RemedyKind::extra_round:
      text = "A round more in " + remedy.area + " on " + date_text(remedy.date, today);
      break;
    case rounds::RemedyKind::more_packs:
      text = packs_of(remedy.packs, remedy.item) + " more in the agency by " + date_text(remedy.date, today);
      break;
  }
  text += ": " + number_of(static_cast<std::size_t>(std::max(remedy.extra_visits, 0)), "extra visit", "extra visits");
  return text + (remedy.risk_after > 0 ? ", and not everything in time." : ".");
}

std::vector<std::string> consequence_texts(const rounds::Consequence& consequence, stock::Date today) {
  std::vector<std::string> texts;
  if (consequence.leaves_too_soon) texts.emplace_back("The round leaves too soon for a new stop.");
  if (consequence.over_the_limit) texts.emplace_back("The round would have more stops than it may.");
  for (const auto& left : consequence.falls) texts.push_back(left_text(left, today));
  if (!consequence.no_longer.empty())
    texts.push_back(number_of(consequence.no_longer.size(), "need", "needs") + " would then come in time.");
  const int more = consequence.visits_more;
  if (more > 0)
    texts.push_back(number_of(static_cast<std::size_t>(more), "visit", "visits") + " more, planned anew around it.");
  if (more < 0)
    texts.push_back(number_of(static_cast<std::size_t>(-more), "visit", "visits") + " fewer, planned anew around it.");
  if (!consequence.moves.empty())
    texts.push_back(number_of(consequence.moves.size(), "confirmed stop", "confirmed stops") + " would move.");
  if (texts.empty()) texts.emplace_back("Nobody falls short by it, and no visit is added.");
  return texts;
}

}  // namespace cellarer::api
