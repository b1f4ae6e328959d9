// SPDX-License-Identifier: MIT
#include "server/service/board_row.hpp"

#include <algorithm>

#include "model/rounds/check.hpp"

namespace cellarer::service {

namespace {

constexpr std::chrono::hours count_is_old_after{24 * 60};
constexpr std::chrono::hours messages_shown_for{24 * 14};
constexpr const char* windows[] = {"expected", "doubtful", "not_expected"};

/// Writes one row and notes on the way what is urgent in it.
class RowWriter {
 public:
  RowWriter(const RowInput& input, const BoardFrame& frame)
      : input_(input), frame_(frame), zone_(input.outlook ? input.outlook->zone : nullptr) {}

  BoardRow run() {
    urgency_.household = input_.household;
    const DeskRecord& desk = input_.desk;
    row_["household"] = input_.household;
    row_["area"] = or_null(desk.area);
    row_["stop"] = or_null(desk.stop);
    sides();
    items();
    row_["last_count_at"] = time_or_null(desk.last_count_at);
    row_["last_record_at"] = time_or_null(desk.last_record_at);
    row_["asked_at"] = time_or_null(desk.asked_at);
    reach();
    messages();
    deliveries();
    not_served();
    row_["closed_at"] = time_or_null(desk.closed_at);
    attention();
    row_["computed_at"] = input_.outlook ? time(input_.outlook->as_of) : nlohmann::json();
    return {row_.dump(), urgency_};
  }

 private:
  nlohmann::json time(Instant at) const { return cellarer::json::rfc3339(at, zone_); }
  nlohmann::json time_or_null(const std::optional<Instant>& at) const { return at ? time(*at) : nlohmann::json(); }
  static nlohmann::json or_null(const std::optional<std::string>& text) {
    return text ? nlohmann::json(*text) : nlohmann::json();
  }
  static nlohmann::json date_or_null(const std::optional<Date>& date) {
    return date ? nlohmann::json(rounds::iso(*date)) : nlohmann::json();
  }

  void sides() {
    for (const auto side : both_sides) {
      nlohmann::json& says = row_[cellarer::name_of(side)];
      if (!input_.outlook) continue;
      const SideSays& one = input_.outlook->sides[side == Side::left ? 0 : 1];
      says = {{"phrase", name_of(one.phrase)},
              {"change_by", time_or_null(one.change_by)},
              {"tonight", one.tonight ? nlohmann::json(windows[static_cast<int>(*one.tonight)]) : nlohmann::json()},
              {"warned_at", time_or_null(one.warned_at)},
              {"stopped_at", time_or_null(one.stopped_at)}};
    }
  }

  void items() {
    nlohmann::json list = nlohmann::json::array();
    std::optional<Date> first;
    row_["days_of_stock"] = nullptr;
    if (input_.outlook) {
      for (const ItemOutlook& item : input_.outlook->items) {
        list.push_back(item_document(item));
        if (item.deliver_by && (!first || *item.deliver_by < *first)) first = item.deliver_by;
        if (item.item == stock::cells_item && item.lasts_known) row_["days_of_stock"] = item.days.p05;
      }
    }
    row_["items"] = std::move(list);
    row_["deliver_by"] = date_or_null(first);
    const Date last{std::chrono::year{2100} / 1 / 1};
    urgency_.deliver_by_day = stock::days_between(Date{std::chrono::year{2000} / 1 / 1}, first.value_or(last));
  }

  static nlohmann::json item_document(const ItemOutlook& item) {
    nlohmann::json document{{"item", item.item},
                            {"deliver_by", date_or_null(item.deliver_by)},
                            {"packs", item.packs},
                            {"pieces", item.packs * item.pieces_per_pack},
                            {"in_house", item.usable},
                            {"days", nullptr},
                            {"please_count", item.please_count}};
    if (item.lasts_known) document["days"] = {{"p05", item.days.p05}, {"p50", item.days.p50}, {"p95", item.days.p95}};
    return document;
  }

  void reach() {
    const rounds::Round* next = next_round(input_.desk, frame_);
    row_["next_round"] = nullptr;
    if (next != nullptr) row_["next_round"] = {{"round", next->id}, {"date", rounds::iso(next->date)}};
    row_["reaches_next_round"] = nullptr;
    if (!input_.outlook || input_.desk.closed_at) return;
    if (input_.outlook->items.empty() || !input_.outlook->rounds_bring_all) return;
    urgency_.reaches = reaches(next);
    row_["reaches_next_round"] = urgency_.reaches;
  }

  /// A need that comes due before the round does; without a round, any.
  bool reaches(const rounds::Round* next) const {
    for (const ItemOutlook& item : input_.outlook->items) {
      const auto needs = needs_beside(item, under_way(input_.desk, frame_.agency, item.item, frame_.now));
      if (!needs.empty() && (next == nullptr || needs.front().deliver_by < next->date)) return false;
    }
    return true;
  }

  void messages() {
    nlohmann::json list = nlohmann::json::array();
    const auto& all = input_.desk.messages;
    for (auto at = all.rbegin(); at != all.rend(); ++at) {
      if (at->seen_at && *at->seen_at + messages_shown_for < frame_.now) continue;
      if (!at->seen_at) urgency_.seen = false;
      list.push_back({{"entry", at->entry},
                      {"about", at->about},
                      {"at", time(at->at)},
                      {"note", at->note.empty() ? nlohmann::json() : nlohmann::json(at->note)},
                      {"seen_at", time_or_null(at->seen_at)}});
    }
    row_["messages"] = std::move(list);
  }

  /// Nothing was planned or received since somebody said that it did not come.
  bool is_made_good(const DeskDelivery& delivery) const {
    const auto& all = input_.desk.deliveries;
    return std::any_of(all.begin(), all.end(), [&](const DeskDelivery& other) {
      const bool counts = other.answer == Answer::open || other.answer == Answer::received;
      return counts && other.planned_at >= delivery.answered_at.value_or(delivery.planned_at);
    });
  }

  void deliveries() {
    nlohmann::json list = nlohmann::json::array();
    for (const DeskDelivery& delivery : input_.desk.deliveries) {
      const auto state = state_of(delivery, frame_.agency, frame_.now);
      if (!is_open(state)) continue;
      const bool came_not = state == DeliveryState::not_received;
      if (came_not && (is_made_good(delivery) || input_.desk.closed_at)) continue;
      did_not_come_ = did_not_come_ || came_not;
      no_answer_ = no_answer_ || state == DeliveryState::no_answer;
      list.push_back({{"round", delivery.round},
                      {"date", rounds::iso(delivery.date)},
                      {"state", name_of(state)},
                      {"since", time(since(delivery, frame_.agency, state))}});
    }
    urgency_.answered = !no_answer_ && !did_not_come_;
    row_["deliveries"] = std::move(list);
  }

  void not_served() {
    nlohmann::json list = nlohmann::json::array();
    const bool is_open = !input_.desk.closed_at;
    for (const rounds::Left& left : is_open ? input_.left : std::vector<rounds::Left>{}) {
      nlohmann::json reasons = nlohmann::json::array();
      for (const auto why : left.reasons) reasons.push_back(name_of(why));
      list.push_back({{"item", left.item},
                      {"packs", left.packs},
                      {"deliver_by", rounds::iso(left.deliver_by)},
                      {"late_on", date_or_null(left.late_on)},
                      {"reasons", std::move(reasons)}});
    }
    urgency_.served = list.empty();
    row_["cannot_be_served"] = std::move(list);
  }

  void attention() {
    const DeskRecord& desk = input_.desk;
    urgency_.closed = desk.closed_at.has_value();
    nlohmann::json list = nlohmann::json::array();
    const auto say = [&](bool so, const char* word) {
      if (so) list.push_back(word);
    };
    say(no_answer_, "no_answer");
    say(did_not_come_, "did_not_come");
    say(!urgency_.seen, "message");
    say(!urgency_.reaches, "does_not_reach");
    say(!urgency_.served, "cannot_be_served");
    const bool no_area = !desk.area && !desk.closed_at;
    const bool unknown = input_.failed || (input_.outlook && !input_.outlook->rounds_bring_all);
    const bool no_forecast = unknown && !desk.closed_at;
    urgency_.planned = !no_area && !no_forecast;
    say(no_area, "no_area");
    say(no_forecast, "no_forecast");
    const bool old = !desk.last_count_at || *desk.last_count_at + count_is_old_after < frame_.now;
    say(old && !desk.closed_at, "count_is_old");
    say(desk.closed_at && (!urgency_.seen || !row_["deliveries"].empty()), "closed_with_open");
    row_["attention"] = std::move(list);
  }

  const RowInput& input_;
  const BoardFrame& frame_;
  Zone zone_;
  bool no_answer_ = false, did_not_come_ = false;
  nlohmann::json row_ = nlohmann::json::object();
  Urgency urgency_;
};

}  // namespace

BoardRow board_row(const RowInput& input, const BoardFrame& frame) { return RowWriter(input, frame).run(); }

std::vector<rounds::Need> needs_beside(const ItemOutlook& item, std::vector<UnderWay> coming) {
  const int pack = std::max(item.pieces_per_pack, 1);
  std::vector<rounds::Need> left;
  for (const auto& need : item.needs) {
    const auto in_time = std::find_if(coming.begin(), coming.end(), [&](const UnderWay& one) {
      return one.pieces >= pack && one.date <= need.deliver_by;
    });
    if (in_time == coming.end())
      left.push_back(need);
    else
      in_time->pieces -= pack;
  }
  return left;
}

const rounds::Round* next_round(const DeskRecord& desk, const BoardFrame& frame) {
  for (const rounds::Round& round : frame.coming.all) {
    if (!is_plannable(frame.agency, round.id)) continue;
    const DeskDelivery* planned = desk.delivery_on(round.id);
    if (planned != nullptr && planned->answer == Answer::open) return &round;
    const bool in_time = round.date >= stock::days_after(frame.coming.today, round.lead_days);
    if (in_time && desk.area && round.area == *desk.area) return &round;
  }
  return nullptr;
}

const char* name_of(rounds::Why why) {
  constexpr const char* names[] = {"no_round", "lead_time", "rounds_full", "stock_short", "kept_out", "not_found"};
  return names[static_cast<int>(why)];
}

const char* name_of(life::Phrase phrase) {
  constexpr const char* names[] = {"expected_to_last_tonight", "change_before_tonight", "change_now", "no_forecast"};
  return names[static_cast<int>(phrase)];
}

}  // namespace cellarer::service
