// SPDX-License-Identifier: MIT
// From a draft to entries: each household's own for its stop, the agency's for each round, all or none.
#include <algorithm>
#include <set>

#include "model/rounds/check.hpp"
#include "server/household_key.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/plan_lines.hpp"

namespace cellarer::service {

namespace {

constexpr std::size_t confirmations_remembered = 64;

Problem round_changed(const std::string& round, const RoundOnBook* now) {
  Problem problem(ProblemCode::outdated,
                  "Somebody else confirmed or changed " + round +
                      " after this plan was made. Nothing of yours was stored: read the plan again, then decide.");
  problem.more["round"] = round;
  if (now != nullptr) {
    problem.more["state"] = name_of(now->state);
    problem.more["number"] = now->number;
    problem.more["at"] = json::rfc3339(now->history.back().at, nullptr);
  }
  return problem;
}

/// In the body of every entry that a confirmation wrote: the key by which it was sent.
constexpr const char* sent_under = "sent_under";

bool was_sent_under(const std::string& body, const std::string& key) {
  if (body.find(key) == std::string::npos) return false;  // most of them, and quicker than reading
  return json::parse(body).value(sent_under, "") == key;
}

/// What was stored under that key, from the entries alone: sent again after a restart, the answer is the one of then.
std::optional<Confirmation> stored_before(HouseholdService& households, store::Store& store, AgencyBoard& board,
                                          const Doing& doing) {
  Confirmation done;
  const auto journal = households.journal().of(doing.agency);  // held: others write meanwhile
  for (const auto& entry : *journal) {
    if (entry.kind != desk::round || !was_sent_under(entry.body, doing.key)) continue;
    done.rounds.push_back({entry.subject, json::parse(entry.body).value("stops", 0), entry.number});
  }
  if (done.rounds.empty()) return std::nullopt;
  board.catch_up(true);
  for (const DeskHousehold& one : board.households()) {
    for (const auto& entry : store.entries(household_key(doing.agency, one.household))) {
      if (entry.kind != desk::delivery_withdrawn || !was_sent_under(entry.body, doing.key)) continue;
      done.withdrawn.push_back({stop_of(one), json::parse(entry.body).value("round", "")});
    }
  }
  return done;
}

/// One confirmation while it is put together.
class Confirming {
 public:
  /// `frame`: as it is now, while the draft may be days old.
  Confirming(const PlanDraft& draft, const BoardFrame& frame, const std::vector<DeskHousehold>& households,
             const LotFacts& lots)
      : draft_(draft), today_(frame.coming.today), agency_(frame.agency), lots_(lots), planned_(planned_lines(draft)) {
    for (const DeskHousehold& one : households) now_[one.household] = one;
  }

  void check(const std::vector<std::string>& rounds) {
    std::set<std::string> seen;
    for (std::size_t i = 0; i < rounds.size(); ++i) {
      const std::string place = "/rounds/" + std::to_string(i);
      const auto refuse = [&](const std::string& why) {
        throw Problem(ProblemCode::out_of_range, place + " " + why, {{place, "out-of-range", why}});
      };
      if (!seen.insert(rounds[i]).second) refuse("is there twice: name each round once");
      const auto* round = draft_.frame.coming.named(rounds[i]);
      if (round == nullptr) refuse("is no round of this plan: name one of its rounds");
      if (round->date < today_) refuse("lies in the past, on " + rounds::iso(round->date) + ": name a round to come");
      unchanged(rounds[i]);
    }
  }

  void add(const std::string& round) {
    const auto& lines = planned_[round];
    std::size_t served = 0;
    for (auto& [reference, one] : now_) {
      const auto planned = lines.find(reference);
      const DeskDelivery* before = one.desk.delivery_on(round);
      const bool stands = before != nullptr && before->answer == Answer::open;
      if (planned == lines.end()) {
        if (stands && !one.desk.closed_at) withdraw(one, round);
        continue;
      }
      ++served;
      if (one.desk.closed_at) throw closed_since(reference, round);
      const auto& to_bring = planned->second;
      if (stands && before->lines == to_bring && before->stop == stop_of(one)) continue;
      put(one, round, to_bring);
    }
    if (served < lines.size()) throw gone_since(round);
    if (lines.empty() && withdrawn_from_.count(round) == 0) {
      throw Problem(ProblemCode::out_of_range, round + " has no stops in this plan: there is nothing to confirm.",
                    {{"/rounds", "out-of-range", round + " has no stops: leave it out"}});
    }
    touched_.insert(round);
  }

  /// Stops that move to one of these rounds leave the round on which they were.
  void leave_other_rounds() {
    std::set<std::pair<std::string, std::string>> moved;
    for (const auto& stop : draft_.plan.moved) moved.emplace(stop.address, stop.round);
    for (auto& [reference, one] : now_) {
      if (brought_.count(reference) == 0) continue;
      for (const auto& [stop, round] : moved) {
        if (stop != stop_of(one) || touched_.count(round) > 0) continue;
        const DeskDelivery* there = one.desk.delivery_on(round);
        if (there == nullptr || there->answer != Answer::open) continue;
        unchanged(round);
        withdraw(one, round);
        left_.insert(round);
      }
    }
    touched_.insert(left_.begin(), left_.end());
  }

  struct Written {
    std::string household;
    const char* kind;
    nlohmann::json body;
  };
  const std::vector<Written>& written() const { return written_; }
  const std::set<std::string>& touched() const { return touched_; }
  const std::vector<rounds::ConfirmedStop>& withdrawn() const { return withdrawn_; }
  /// As it will be.
  std::vector<DeskHousehold> on(const std::string& round) const {
    std::vector<DeskHousehold> all;
    for (const auto& [reference, one] : now_) {
      const DeskDelivery* delivery = one.desk.delivery_on(round);
      if (delivery != nullptr && delivery->answer != Answer::withdrawn) all.push_back(one);
    }
    return all;
  }

 private:
  void unchanged(const std::string& round) const {
    if (agency_.number_of(round) != draft_.frame.agency.number_of(round) || !is_plannable(agency_, round))
      throw round_changed(round, agency_.round(round));
  }

  static Problem closed_since(const std::string& household, const std::string& round) {
    return Problem(ProblemCode::outdated, "Household " + household + " was closed after this plan was made, and " +
                                              round +
                                              " would still go there. Nothing was stored: read the plan again.");
  }
  static Problem recalled_since(const std::string& lot, const std::string& round) {
    return Problem(ProblemCode::outdated, "Lot " + lot + " was recalled after this plan was made, and " + round +
                                              " would still bring it. Nothing was stored: read the plan again.");
  }
  static Problem gone_since(const std::string& round) {
    return Problem(ProblemCode::outdated,
                   "A household of " + round + " is no longer there. Nothing was stored: read the plan again.");
  }

  DeskDelivery& delivery(DeskHousehold& one, const std::string& round) {
    for (DeskDelivery& there : one.desk.deliveries)
      if (there.round == round) return there;
    return one.desk.deliveries.emplace_back();
  }

  void withdraw(DeskHousehold& one, const std::string& round) {
    delivery(one, round).answer = Answer::withdrawn;
    written_.push_back({one.household, desk::delivery_withdrawn, {{"round", round}}});
    withdrawn_.push_back({stop_of(one), round});
    withdrawn_from_.insert(round);
  }

  void put(DeskHousehold& one, const std::string& round, const Lines& lines) {
    const auto& of_round = *draft_.frame.coming.named(round);
    auto list = nlohmann::json::array();
    for (const DeliveryLine& line : lines) {
      for (const DeliveredLot& lot : line.lots)
        if (lots_.recall_of({line.item, lot.lot}) != nullptr) throw recalled_since(lot.lot, round);
      list.push_back(delivery_line_document(line));
    }
    written_.push_back(
        {one.household,
         desk::planned_delivery,
         {{"round", round}, {"date", rounds::iso(of_round.date)}, {"stop", stop_of(one)}, {"lines", std::move(list)}}});
    DeskDelivery& there = delivery(one, round);
    there = {round, of_round.date, stop_of(one), lines, draft_.frame.now, Answer::open, std::nullopt};
    brought_.insert(one.household);
  }

  const PlanDraft& draft_;
  const rounds::Date today_;
  const AgencyRecord& agency_;
  const LotFacts& lots_;
  ByRound planned_;
  std::map<std::string, DeskHousehold> now_;
  std::vector<Written> written_;
  std::vector<rounds::ConfirmedStop> withdrawn_;
  std::set<std::string> touched_, left_, brought_, withdrawn_from_;
};

}  // namespace

Confirmation PlannerDesk::confirm(const Doing& doing, const std::string& tag, const std::vector<std::string>& rounds) {
  const auto kept = of(doing.agency);
  Agency& agency = *kept;
  const std::lock_guard lock(agency.deciding);
  for (const auto& [key, done] : agency.confirmations)
    if (key == doing.key) return done;
  if (auto stored = stored_before(households_, store_, agency.board, doing)) return *stored;
  const auto draft = this->draft(doing.agency, tag);
  agency.board.catch_up(true);
  const auto frame = agency.board.frame();
  const auto lots = households_.lots_of_agency(doing.agency);
  Confirming confirming(*draft, frame, agency.board.households(), *lots);
  confirming.check(rounds);
  for (const auto& round : rounds) confirming.add(round);
  confirming.leave_other_rounds();
  store::Batch batch;
  for (const auto& one : confirming.written()) {
    auto body = one.body;
    body[sent_under] = doing.key;
    batch.entries.push_back(
        entry_of(doing, household_key(doing.agency, one.household), one.kind, body, batch.entries.size()));
  }
  for (const auto& round : confirming.touched()) {
    batch.agency_entries.push_back(round_entry_of(
        doing, *draft->frame.coming.named(round), RoundState::planned, confirming.on(round),
        frame.agency.number_of(round), batch.entries.size() + batch.agency_entries.size(), {{sent_under, doing.key}}));
  }
  households_.journal().write_together(batch);
  for (const auto& entry : batch.entries) households_.changes().tell(entry.household);
  Confirmation done{{}, confirming.withdrawn()};
  const auto after = agency.board.frame().agency;
  for (const auto& round : confirming.touched()) {
    const auto* there = after.round(round);
    done.rounds.push_back({round, there->stops, there->number});
  }
  agency.confirmations.emplace_front(doing.key, done);
  if (agency.confirmations.size() > confirmations_remembered) agency.confirmations.pop_back();
  return done;
}

}  // namespace cellarer::service
