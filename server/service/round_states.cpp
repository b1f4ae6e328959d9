// SPDX-License-Identifier: MIT
// What happens to a round once it is confirmed, and to each of its deliveries.
#include <algorithm>

#include "server/household_key.hpp"
#include "server/json/texts.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/facts.hpp"
#include "server/service/planner_desk.hpp"

namespace cellarer::service {

namespace {

Problem unknown_round(const std::string& round) {
  return Problem(ProblemCode::unknown_round,
                 "Nothing is confirmed of a round " + round + ": GET /api/v1/calendar names the rounds.");
}

[[noreturn]] void cannot_follow(const std::string& round, RoundState before, RoundState after) {
  const std::string why = round + " is " + name_of(before) + ", which cannot become " + name_of(after) +
                          ": planned, loaded, left, done is the order; what was marked as left by mistake can be "
                          "loaded again, and what has not left can be cancelled";
  throw Problem(ProblemCode::out_of_range, "/state " + why, {{"/state", "out-of-range", why}});
}

/// A lot that was recalled after the round was planned goes to no home: not loaded, and not out of the door.
void refuse_recalled(const RoundOnBook& round) {
  for (const LoadedLot& lot : round.totals) {
    if (!lot.recalled) continue;
    const std::string& name = round.round.id;
    const std::string way_out =
        round.state == RoundState::loaded
            ? "Cancel the round, set that lot aside, and plan it again"
            : "Confirm the round again from the plan, which leaves that lot out, and print its list again";
    Problem problem(ProblemCode::lot_recalled, name + " carries lot " + lot.lot + " of " + lot.item +
                                                   ", which is recalled. " + way_out + ". Nothing was stored.");
    problem.more["round"] = name;
    problem.more["lot"] = lot.lot;
    problem.more["item"] = lot.item;
    throw problem;
  }
}

/// What has not come cannot be loaded. A pack of it that stands there was not recorded yet.
void refuse_not_here(const RoundOnBook& round, const AgencyRecord& agency) {
  for (const LoadedLot& lot : round.totals) {
    int there = 0;
    bool on_order = false;
    for (const StoredLot& row : agency.lots) {
      if (row.item != lot.item || row.lot != lot.lot) continue;
      if (row.arrives)
        on_order = true;
      else
        there += row.packs;
    }
    if (!on_order || there >= lot.packs) continue;
    const std::string why = round.round.id + " carries " + std::to_string(lot.packs) + " of lot " + lot.lot + " of " +
                            lot.item + ", and the store has " + std::to_string(std::max(0, there)) +
                            " of it: the rest is on order. Record it as received if it has come, or confirm the "
                            "round again from the plan. Nothing was stored.";
    Problem problem(ProblemCode::out_of_range, why, {{"/state", "out-of-range", why}});
    problem.more["round"] = round.round.id;
    problem.more["lot"] = lot.lot;
    problem.more["item"] = lot.item;
    throw problem;
  }
}

/// What came, as the household's stock takes it.
std::vector<stock::Line> as_planned(const DeskDelivery& delivery) {
  std::vector<stock::Line> lines;
  for (const DeliveryLine& line : delivery.lines) {
    for (const DeliveredLot& lot : line.lots) {
      if (lot.packs == 0) continue;
      stock::Line received;
      received.item = line.item;
      if (!lot.lot.empty()) received.lot = lot.lot;
      received.quantity = lot.packs * line.pieces_per_pack;
      received.expires = lot.expires;
      lines.push_back(std::move(received));
    }
  }
  return lines;
}

/// What the household's stock has of it already: there, where the answer was taken back and is given again. What came
/// before the delivery was planned is of one before it, on a round that was cancelled and planned anew.
std::vector<std::int64_t> booked(const std::vector<store::StoredEntry>& entries, const std::string& round,
                                 Instant planned_at = {}) {
  std::vector<std::int64_t> numbers;
  for (const store::StoredEntry& entry : entries) {
    if (entry.kind != kind::delivery || entry.voided_by || entry.recorded_at < planned_at) continue;
    // A home may have written whatever it liked there.
    const auto body = json::parse(entry.body);
    const auto named = body.find("round");
    if (named != body.end() && *named == round) numbers.push_back(entry.number);
  }
  return numbers;
}

nlohmann::json receipt(const stock::Line& line, Instant at, const std::string& round) {
  nlohmann::json body{{"at", json::rfc3339(at, nullptr)},
                      {"item", line.item},
                      {"quantity", line.quantity},
                      {"place", usual_place},
                      {"round", round}};
  if (line.lot) body["lot"] = *line.lot;
  if (line.expires) body["expires"] = json::month_text(*line.expires);
  return body;
}

}  // namespace

Problem nothing_planned_on(const std::string& round) {
  return Problem(ProblemCode::out_of_range, "Nothing was planned for this household on " + round + ".",
                 {{"/round", "out-of-range", "name a round on which this household has a delivery"}});
}

void PlannerDesk::set_round_state(const Doing& doing, const std::string& name, RoundState state, std::int64_t follows) {
  const auto kept = of(doing.agency);
  Agency& agency = *kept;
  const std::lock_guard lock(agency.deciding);
  const auto record = agency.board.frame().agency;
  const RoundOnBook* round = record.round(name);
  if (round == nullptr) throw unknown_round(name);
  if (round->state == state) return;  // it is so already
  if (round->number != follows) {
    Problem problem(ProblemCode::outdated, "Somebody else changed " + name + " in the meantime: it is " +
                                               name_of(round->state) + ". Nothing of yours was stored.");
    problem.more["round"] = name;
    problem.more["number"] = round->number;
    problem.more["state"] = name_of(round->state);
    throw problem;
  }
  if (!may_follow(round->state, state)) cannot_follow(name, round->state, state);
  const bool goes_back = round->state == RoundState::left && state == RoundState::loaded;
  const bool leaves_the_store = state == RoundState::loaded || state == RoundState::left;
  if (!goes_back && leaves_the_store) refuse_recalled(*round);
  if (round->state == RoundState::planned && leaves_the_store) refuse_not_here(*round, record);
  store::Batch batch;
  auto stops = on_round(doing.agency, name);
  if (state == RoundState::cancelled) {
    for (const DeskHousehold& one : stops) {
      if (one.desk.delivery_on(name)->answer != Answer::open) continue;
      batch.entries.push_back(entry_of(doing, household_key(doing.agency, one.household), desk::delivery_withdrawn,
                                       {{"round", name}}, batch.entries.size()));
    }
    // What was received stays received, and what was said to be back or lost does not come back once more.
    std::erase_if(stops, [&](const DeskHousehold& one) {
      const DeskDelivery& delivery = *one.desk.delivery_on(name);
      return delivery.answer != Answer::received && delivery.whereabouts == Whereabouts::not_known;
    });
  }
  batch.agency_entries.push_back(round_entry_of(doing, round->round, state, stops, follows, batch.entries.size()));
  households_.journal().write_together(batch);
  for (const auto& entry : batch.entries) households_.changes().tell(entry.household);
}

void PlannerDesk::delivery_received(const Doing& doing, const std::string& key, const std::string& round,
                                    const std::optional<std::vector<stock::Line>>& lines) {
  const auto kept = of(doing.agency);
  Agency& agency = *kept;
  const std::lock_guard lock(agency.deciding);
  const auto desk = desk_of(key);
  const DeskDelivery* delivery = desk.delivery_on(round);
  if (delivery == nullptr) throw nothing_planned_on(round);
  if (delivery->answer == Answer::received) return;  // somebody else in the house said so, or it is sent again
  const Instant now = households_.clock().now();
  store::Batch batch;
  if (delivery->whereabouts != Whereabouts::not_known)  // it came after all
    add_settlement(doing, key, *delivery, Whereabouts::not_known, {}, batch);
  const bool is_booked = !booked(store_.entries(key), round, delivery->planned_at).empty();
  for (const auto& line : lines.value_or(as_planned(*delivery))) {
    if (is_booked || line.quantity == 0) continue;
    batch.entries.push_back(entry_of(doing, key, kind::delivery, receipt(line, now, round), batch.entries.size()));
  }
  batch.entries.push_back(
      entry_of(doing, key, desk::delivery_answer, {{"round", round}, {"answer", "received"}}, batch.entries.size()));
  households_.journal().write_together(batch);
  households_.changes().tell(key);
}

std::vector<std::int64_t> PlannerDesk::booked_with(const std::string& key, std::int64_t entry) {
  const auto answer = store_.entry(key, entry);
  if (!answer || answer->kind != desk::delivery_answer || answer->voided_by) return {};
  const auto body = json::parse(answer->body);
  if (body.value("answer", "") != "received") return {};
  return booked(store_.entries(key), body.value("round", ""));
}

std::vector<std::int64_t> PlannerDesk::booked_of(const std::string& key, const std::string& round) {
  return booked(store_.entries(key), round);
}

void PlannerDesk::delivery_not_received(const Doing& doing, const std::string& key, const std::string& round) {
  const auto kept = of(doing.agency);
  Agency& agency = *kept;
  const std::lock_guard lock(agency.deciding);
  const auto desk = desk_of(key);
  const DeskDelivery* delivery = desk.delivery_on(round);
  if (delivery == nullptr) throw nothing_planned_on(round);
  if (delivery->answer == Answer::not_received) return;
  if (delivery->answer == Answer::received) {
    throw Problem(ProblemCode::out_of_range,
                  "This delivery was recorded as received: take that back first, where it was a mistake.",
                  {{"/answer", "out-of-range", "it was received"}});
  }
  store::Batch batch;
  batch.entries.push_back(
      entry_of(doing, key, desk::delivery_answer, {{"round", round}, {"answer", "not_received"}}, 0));
  households_.journal().write_together(batch);
  households_.changes().tell(key);
}

/// Stops on rounds that are still in store go, with the rounds' totals; what is under way comes back or is answered.
std::vector<EndedStop> PlannerDesk::take_off_rounds(const Doing& doing, const DeskHousehold& household,
                                                    const std::string& key, store::Batch& batch) {
  std::vector<EndedStop> ended;
  const auto record = of(doing.agency)->board.frame().agency;
  for (const DeskDelivery& delivery : household.desk.deliveries) {
    const auto state = record.state_of(delivery.round);
    if (delivery.answer != Answer::open || state == RoundState::left || state == RoundState::done) continue;
    batch.entries.push_back(
        entry_of(doing, key, desk::delivery_withdrawn, {{"round", delivery.round}}, batch.entries.size()));
    ended.push_back({delivery.stop, delivery.round, delivery.date});
    const RoundOnBook* round = record.round(delivery.round);
    if (round == nullptr || state == RoundState::loaded) continue;  // what is loaded comes back with the round
    auto stops = on_round(doing.agency, delivery.round);
    std::erase_if(stops, [&](const DeskHousehold& one) { return one.household == household.household; });
    batch.agency_entries.push_back(
        round_entry_of(doing, round->round, state, stops, round->number, 1000 + batch.agency_entries.size()));
  }
  return ended;
}

std::vector<EndedStop> PlannerDesk::close(const Doing& doing, const std::string& key) {
  const auto kept = of(doing.agency);
  Agency& agency = *kept;
  const std::lock_guard lock(agency.deciding);
  DeskHousehold household{reference_of(key), desk_of(key), nullptr};
  if (household.desk.closed_at) return {};
  store::Batch batch;
  batch.entries.push_back(entry_of(doing, key, desk::closed, nlohmann::json::object(), 0));
  const auto ended = take_off_rounds(doing, household, key, batch);
  households_.journal().write_together(batch);
  households_.changes().tell(key);
  return ended;
}

}  // namespace cellarer::service
