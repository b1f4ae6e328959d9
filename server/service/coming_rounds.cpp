// SPDX-License-Identifier: MIT
#include "server/service/coming_rounds.hpp"

#include <algorithm>
#include <set>

namespace cellarer::service {

const rounds::Round* ComingRounds::named(const std::string& round) const {
  const auto at = std::find_if(all.begin(), all.end(), [&](const rounds::Round& one) { return one.id == round; });
  return at == all.end() ? nullptr : &*at;
}

ComingRounds coming_rounds(const AgencyRecord& agency, rounds::Date today) {
  ComingRounds coming{
      today, rounds::rounds_of(agency.calendar.rules, today, stock::days_after(today, agency.calendar.horizon_days))};
  std::set<std::string> there;
  for (const auto& round : coming.all) there.insert(round.id);
  for (const auto& [name, booked] : agency.rounds) {
    const bool stays = booked.round.date >= today && booked.state != RoundState::cancelled && booked.stops > 0;
    if (stays && there.count(name) == 0) coming.all.push_back(booked.round);
  }
  std::stable_sort(coming.all.begin(), coming.all.end(), [](const auto& a, const auto& b) { return a.date < b.date; });
  return coming;
}

bool is_plannable(const AgencyRecord& agency, const std::string& round) {
  const auto state = agency.state_of(round);
  return state == RoundState::open || state == RoundState::planned;
}

const char* name_of(DeliveryState state) {
  constexpr const char* names[] = {"planned", "loaded", "left", "no_answer", "received", "not_received", "withdrawn"};
  return names[static_cast<int>(state)];
}

namespace {

/// None where it has not left, or not after all.
std::optional<Instant> left_since(const RoundOnBook* round) {
  const bool is_out = round != nullptr && (round->state == RoundState::left || round->state == RoundState::done);
  return is_out ? round->since(RoundState::left) : std::nullopt;
}

}  // namespace

DeliveryState state_of(const DeskDelivery& delivery, const AgencyRecord& agency, Instant now) {
  if (delivery.answer == Answer::received) return DeliveryState::received;
  if (delivery.answer == Answer::not_received) return DeliveryState::not_received;
  if (delivery.answer == Answer::withdrawn) return DeliveryState::withdrawn;
  const Instant day_over = std::chrono::sys_days{delivery.date} + std::chrono::days{1};
  const auto left_at = left_since(agency.round(delivery.round));
  if (now >= left_at.value_or(day_over) + answer_within) return DeliveryState::no_answer;
  switch (agency.state_of(delivery.round)) {
    case RoundState::loaded:
      return DeliveryState::loaded;
    case RoundState::left:
    case RoundState::done:
      return DeliveryState::left;
    default:
      return DeliveryState::planned;
  }
}

Instant since(const DeskDelivery& delivery, const AgencyRecord& agency, DeliveryState state) {
  if (delivery.answered_at) return *delivery.answered_at;
  const RoundOnBook* round = agency.round(delivery.round);
  const auto reached = [&](RoundState which) { return round == nullptr ? std::nullopt : round->since(which); };
  switch (state) {
    case DeliveryState::loaded:
      return reached(RoundState::loaded).value_or(delivery.planned_at);
    case DeliveryState::left:
    case DeliveryState::no_answer:
      return left_since(round).value_or(delivery.planned_at);
    default:
      return delivery.planned_at;
  }
}

std::vector<UnderWay> under_way(const DeskRecord& desk, const AgencyRecord& agency, const std::string& item,
                                Instant now) {
  std::vector<UnderWay> all;
  for (const auto& delivery : desk.deliveries) {
    if (!is_under_way(state_of(delivery, agency, now))) continue;
    for (const auto& line : delivery.lines)
      if (line.item == item) all.push_back({delivery.date, line.packs * line.pieces_per_pack});
  }
  std::stable_sort(all.begin(), all.end(), [](const UnderWay& a, const UnderWay& b) { return a.date < b.date; });
  return all;
}

}  // namespace cellarer::service
