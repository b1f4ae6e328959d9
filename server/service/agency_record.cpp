// SPDX-License-Identifier: MIT
#include "server/service/agency_record.hpp"

#include <algorithm>
#include <tuple>

#include "model/rounds/check.hpp"
#include "model/stock/dates.hpp"
#include "server/json/texts.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/desk_record.hpp"

namespace cellarer::service {

using json::Field;

namespace {

constexpr const char* state_names[] = {"open", "planned", "loaded", "left", "done", "cancelled"};
constexpr std::initializer_list<const char*> stock_words{"received", "counted", "discarded", "ordered", "cancelled"};
/// And those that follow from what is said of a delivery (settle_delivery.cpp).
constexpr std::initializer_list<const char*> book_words{"received",  "counted",   "discarded", "ordered",
                                                        "cancelled", "came_back", "lost"};
enum class Booked { received, counted, discarded, ordered, cancelled, came_back, lost };

/// A sum stays a number, whatever was typed and however often.
void change_packs(StoredLot& lot, int packs) {
  constexpr std::int64_t most_packs = 1'000'000'000;
  lot.packs = static_cast<int>(std::clamp(std::int64_t{lot.packs} + packs, -most_packs, most_packs));
}

std::string lot_name(const Field& field) {
  const auto lot = field.find("lot");
  return lot && !lot->value().get_ref<const std::string&>().empty() ? lot->text(60) : "";
}

LoadedLot read_loaded(const Field& field, const LotFacts& lots) {
  LoadedLot lot{field["item"].text(60), "", field["packs"].integer(0, 1'000'000), std::nullopt, false};
  lot.lot = lots.right({lot.item, lot_name(field)});
  if (const auto expires = field.find("expires")) lot.expires = expires->month();
  return lot;
}

rounds::Round read_round(const Field& body, const std::string& name) {
  return {name, body["area"].text(60), read_date(body["date"]), body["stops_at_most"].integer(1, 1'000'000),
          body["lead_days"].integer(0, 366)};
}

/// Two numbers of which one was corrected to the other are one lot.
void add_to(std::vector<LoadedLot>& totals, const LoadedLot& more) {
  for (LoadedLot& lot : totals) {
    if (lot.item != more.item || lot.lot != more.lot) continue;
    lot.packs += more.packs;
    if (!lot.expires) lot.expires = more.expires;
    return;
  }
  totals.push_back(more);
}

class AgencyFold {
 public:
  AgencyFold(AgencyRecord& record, const LotFacts& lots) : record_(record), lots_(lots) {}

  void add(const store::StoredAgencyEntry& entry) {
    record_.number = entry.number;
    const bool mine =
        entry.kind == desk::round_calendar || entry.kind == desk::agency_stock || entry.kind == desk::round;
    if (!mine) return;
    const auto document = json::parse(entry.body);
    const Field body(document, "");
    if (entry.kind == desk::round_calendar) {
      record_.calendar = read_calendar(body);
      record_.calendar.number = entry.number;
    }
    if (entry.kind == desk::agency_stock) book(entry, body);
    if (entry.kind == desk::round) step(entry, body);
  }

 private:
  StoredLot* find(const LotName& name, bool ordered) {
    for (StoredLot& one : record_.lots)
      if (one.item == name.item && one.lot == name.lot && one.arrives.has_value() == ordered) return &one;
    return nullptr;
  }

  /// What is there of a lot, or what is on order of it: another row of the same lot. Holds until the next is asked for.
  StoredLot& lot_of(const LotName& name, bool ordered) {
    if (StoredLot* there = find(name, ordered)) return *there;
    const StoredLot* other = find(name, !ordered);
    const auto expires = other != nullptr ? other->expires : std::nullopt;
    record_.lots.push_back({name.item, name.lot, 0, expires, std::nullopt, false});
    return record_.lots.back();
  }

  void book(const store::StoredAgencyEntry& entry, const Field& body) {
    const auto what = static_cast<Booked>(body["what"].word(book_words));
    const std::string item = body["item"].text(60);
    const LotName name{item, lots_.right({item, lot_name(body)})};
    const auto undone = body.find("undone");
    const int sign = undone && undone->boolean() ? -1 : 1;
    if (what == Booked::lost) {
      record_.lost[name] += sign * body["pieces"].integer(0, 1'000'000'000);
      return;
    }
    if (what == Booked::came_back && !record_.keeps_stock) return;
    record_.keeps_stock = true;
    const int packs = body["packs"].integer(0, 1'000'000);
    switch (what) {
      case Booked::received:
        change_packs(lot_of(name, false), packs);
        if (StoredLot* order = find(name, true)) order->packs = std::max(0, order->packs - packs);
        break;
      case Booked::counted:
        lot_of(name, false).packs = packs;
        // Whatever had come by then was counted.
        if (StoredLot* order = find(name, true); order != nullptr && *order->arrives <= day_of(entry.recorded_at))
          order->packs = 0;
        break;
      case Booked::discarded:
        change_packs(lot_of(name, false), -packs);
        break;
      case Booked::ordered: {
        StoredLot& order = lot_of(name, true);
        order.packs = packs;
        order.arrives = read_date(body["arrives"]);
        break;
      }
      case Booked::cancelled:
        if (StoredLot* order = find(name, true)) order->packs = std::max(0, order->packs - packs);
        break;
      case Booked::came_back:
        change_packs(lot_of(name, false), sign * packs);
        break;
      case Booked::lost:
        break;
    }
    if (const auto expires = body.find("expires")) {
      for (StoredLot& lot : record_.lots)
        if (lot.item == name.item && lot.lot == name.lot) lot.expires = expires->month();
    }
  }

  rounds::Date day_of(Instant at) const {
    const std::string& zone = record_.calendar.zone_name;
    return stock::date_in(date::locate_zone(zone.empty() ? "UTC" : zone), at);
  }

  void step(const store::StoredAgencyEntry& entry, const Field& body) {
    RoundOnBook& round = record_.rounds[entry.subject];
    const RoundState before = round.state;
    const auto totals_before = round.totals;
    round.round = read_round(body, entry.subject);
    round.state =
        static_cast<RoundState>(body["state"].word({"open", "planned", "loaded", "left", "done", "cancelled"}));
    round.number = entry.number;
    round.stops = body["stops"].integer(0, 1'000'000);
    round.totals.clear();
    for (const Field& lot : body["totals"].elements(1000)) add_to(round.totals, read_loaded(lot, lots_));
    round.history.push_back({round.state, entry.recorded_at, entry.number});
    if (!is_out(before) && is_out(round.state)) move(round.totals, -1);
    if (!is_out(before) || is_out(round.state)) return;
    move(totals_before, 1);
    if (round.state == RoundState::cancelled) move(round.totals, -1);
  }

  void move(const std::vector<LoadedLot>& lots, int sign) {
    if (!record_.keeps_stock) return;
    for (const LoadedLot& loaded : lots) {
      StoredLot& lot = lot_of({loaded.item, loaded.lot}, false);
      change_packs(lot, sign * loaded.packs);
      if (!lot.expires) lot.expires = loaded.expires;
    }
  }

  AgencyRecord& record_;
  const LotFacts& lots_;
};

}  // namespace

const char* name_of(RoundState state) { return state_names[static_cast<int>(state)]; }

RoundState read_round_state(const Field& state) {
  return static_cast<RoundState>(2 + state.word({"loaded", "left", "done", "cancelled"}));
}

bool is_out(RoundState state) {
  return state == RoundState::loaded || state == RoundState::left || state == RoundState::done;
}

bool may_follow(RoundState before, RoundState after) {
  using enum RoundState;
  switch (after) {
    case loaded:
      return before == planned || before == left;  // marked by mistake: it stands in the yard still
    case left:
      return before == planned || before == loaded;
    case done:
      return before == left;
    case cancelled:
      return before == planned || before == loaded;
    case open:
    case planned:
      break;
  }
  return false;
}

std::optional<Instant> RoundOnBook::since(RoundState which) const {
  std::optional<Instant> at;
  for (const RoundStep& step : history)
    if (step.state == which) at = step.at;
  return at;
}

const RoundOnBook* AgencyRecord::round(const std::string& name) const {
  const auto at = rounds.find(name);
  return at == rounds.end() ? nullptr : &at->second;
}

RoundState AgencyRecord::state_of(const std::string& name) const {
  const RoundOnBook* there = round(name);
  return there == nullptr ? RoundState::open : there->state;
}

std::int64_t AgencyRecord::number_of(const std::string& name) const {
  const RoundOnBook* there = round(name);
  return there == nullptr ? 0 : there->number;
}

AgencyRecord agency_record(const std::vector<store::StoredAgencyEntry>& entries, const LotFacts& lots) {
  AgencyRecord record;
  take_up(record, entries, 0, lots);
  return record;
}

void take_up(AgencyRecord& record, const std::vector<store::StoredAgencyEntry>& entries, std::size_t first,
             const LotFacts& lots) {
  AgencyFold fold(record, lots);
  for (std::size_t i = first; i < entries.size(); ++i) fold.add(entries[i]);
  std::erase_if(record.lots, [](const StoredLot& lot) { return lot.packs == 0; });
  for (StoredLot& lot : record.lots) lot.recalled = lots.recall_of({lot.item, lot.lot}) != nullptr;
  for (auto& [name, round] : record.rounds)
    for (LoadedLot& lot : round.totals) lot.recalled = lots.recall_of({lot.item, lot.lot}) != nullptr;
  const auto expiry = [](const StoredLot& lot) {
    return lot.expires ? std::chrono::sys_days{*lot.expires / std::chrono::last} : std::chrono::sys_days::max();
  };
  std::stable_sort(record.lots.begin(), record.lots.end(), [&](const StoredLot& a, const StoredLot& b) {
    return std::tuple{a.item, expiry(a), a.lot, a.arrives} < std::tuple{b.item, expiry(b), b.lot, b.arrives};
  });
}

nlohmann::json round_entry(const rounds::Round& round, RoundState state, int stops,
                           const std::vector<LoadedLot>& totals) {
  auto lots = nlohmann::json::array();
  for (const LoadedLot& lot : totals) {
    nlohmann::json one{{"item", lot.item}, {"lot", lot.lot}, {"packs", lot.packs}};
    if (lot.expires) one["expires"] = json::month_text(*lot.expires);
    lots.push_back(std::move(one));
  }
  return {{"state", name_of(state)},      {"area", round.area},           {"date", rounds::iso(round.date)},
          {"stops_at_most", round.stops}, {"lead_days", round.lead_days}, {"stops", stops},
          {"totals", std::move(lots)}};
}

void check_agency_stock(const Field& body) {
  const auto what = body["what"].word(stock_words);
  body["item"].text(60);
  if (const auto lot = body.find("lot")) lot->text(60);
  body["packs"].integer(what == 1 ? 0 : 1, 1'000'000);
  if (const auto expires = body.find("expires")) expires->month();
  const bool ordered = what == 3;
  if (ordered) read_date(body["arrives"]);
  if (!ordered && body.find("arrives"))
    body["arrives"].refuse("out-of-range", "belongs to what is ordered: what is here has arrived");
}

}  // namespace cellarer::service
