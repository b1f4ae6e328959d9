// SPDX-License-Identifier: MIT
#include "server/service/desk_record.hpp"

#include <algorithm>

#include "server/json/texts.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/facts.hpp"
#include "server/service/fold.hpp"

namespace cellarer::service {

using json::Field;

namespace {

constexpr const char* whereabouts_names[] = {"not_known", "came_back", "lost"};

/// One way through the entries, in the order of recording.
class DeskFold {
 public:
  explicit DeskFold(DeskRecord& record) : record_(record) {}

  void add(const store::StoredEntry& entry) {
    record_.last_entry = entry.number;
    const bool about_use = !desk::is_of_the_desk(entry.kind);
    if (about_use) record_.last_use_entry = entry.number;
    if (entry.voided_by) return;
    if (about_use) {
      add_use(entry);
      if (entry.kind == kind::unit) add_unit(entry);
      if (entry.kind == kind::delivery) add_came(entry);
    } else {
      const auto document = json::parse(entry.body);
      add_desk(entry, Field(document, ""));
    }
  }

 private:
  void add_use(const store::StoredEntry& entry) {
    record_.last_record_at = std::max(record_.last_record_at.value_or(entry.at), entry.at);
    if (entry.kind == kind::stock_count)
      record_.last_count_at = std::max(record_.last_count_at.value_or(entry.at), entry.at);
  }

  void add_desk(const store::StoredEntry& entry, const Field& body) {
    const std::string& what = entry.kind;
    if (what == desk::message) add_message(entry, body);
    if (what == desk::message_seen) see(entry, body["entry"].value().get<std::int64_t>());
    if (what == desk::ask) record_.asked_at = entry.at;
    if (what == desk::stop_place) place(body);
    if (what == desk::closed) record_.closed_at = entry.at;
    if (what == desk::reopened) record_.closed_at.reset();
    if (what == desk::planned_delivery) plan(entry, body);
    if (what == desk::delivery_withdrawn) answer(body["round"].text(), Answer::withdrawn, entry.at);
    if (what == desk::delivery_answer) {
      const bool came = body["answer"].word({"received", "not_received"}) == 0;
      answer(body["round"].text(), came ? Answer::received : Answer::not_received, entry.at);
    }
    if (what == desk::delivery_settled) settle(body);
    if (what == desk::stop_decision) decide(body);
  }

  void add_unit(const store::StoredEntry& entry) {
    const auto document = json::parse(entry.body);
    const Field body(document, "");
    record_.units.push_back({body["serial"].text(), read_time(body["from"])});
  }

  /// What a delivery on a round became in the home's stock.
  void add_came(const store::StoredEntry& entry) {
    const auto document = json::parse(entry.body);
    const Field body(document, "");
    const auto round = body.find("round");  // which the door does not look at
    const bool named = round && round->value().is_string();
    DeskDelivery* there = named ? on(round->value().get_ref<const std::string&>()) : nullptr;
    if (there == nullptr) return;
    const stock::Line line = read_stock_event(body, stock::Happened::received).line;
    there->came.push_back({line.item, line.lot.value_or(""), line.quantity});
  }

  void settle(const Field& body) {
    DeskDelivery* there = on(body["round"].text());
    if (there == nullptr) return;
    there->whereabouts = read_whereabouts(body["packs"]);
    there->settled.clear();
    for (const Field& lot : body["lots"].elements(500)) there->settled.push_back(read_missing_lot(lot));
  }

  void add_message(const store::StoredEntry& entry, const Field& body) {
    DeskMessage message;
    message.entry = entry.number;
    message.about = body["about"].text(40);
    if (const auto note = body.find("note")) message.note = note->text(500);
    message.at = entry.at;
    record_.messages.push_back(std::move(message));
  }

  void see(const store::StoredEntry& entry, std::int64_t number) {
    for (DeskMessage& message : record_.messages)
      if (message.entry == number && !message.seen_at) message.seen_at = entry.at;
  }

  void place(const Field& body) {
    record_.area = body["area"].text(60);
    record_.stop.reset();
    if (const auto stop = body.find("stop")) record_.stop = stop->text(60);
    record_.storage.clear();
    if (const auto storage = body.find("storage")) {
      for (const Field& one : storage->elements(50))
        record_.storage[one["item"].text(60)] = one["pieces"].integer(1, 100'000);
    }
  }

  DeskDelivery* on(const std::string& round) {
    for (DeskDelivery& delivery : record_.deliveries)
      if (delivery.round == round) return &delivery;
    return nullptr;
  }

  void plan(const store::StoredEntry& entry, const Field& body) {
    const std::string round = body["round"].text();
    DeskDelivery* there = on(round);
    if (there == nullptr) there = &record_.deliveries.emplace_back();
    *there = {round, read_date(body["date"]), body["stop"].text(80), {}, entry.at, Answer::open, std::nullopt};
    for (const Field& line : body["lines"].elements(50)) there->lines.push_back(read_delivery_line(line));
  }

  void answer(const std::string& round, Answer said, Instant at) {
    DeskDelivery* there = on(round);
    if (there == nullptr) return;
    there->answer = said;
    there->answered_at = at;
  }

  void decide(const Field& body) {
    const std::string round = body["round"].text();
    std::erase_if(record_.decisions, [&](const StopDecision& one) { return one.round == round; });
    if (const auto stop = body.find("stop")) record_.decisions.push_back({round, stop->boolean()});
  }

  DeskRecord& record_;
};

}  // namespace

const DeskDelivery* DeskRecord::delivery_on(const std::string& round) const {
  const auto at =
      std::find_if(deliveries.begin(), deliveries.end(), [&](const auto& one) { return one.round == round; });
  return at == deliveries.end() ? nullptr : &*at;
}

DeskRecord desk_record(const store::StoredHousehold& household, const std::vector<store::StoredEntry>& entries) {
  const auto document = json::parse(household.document);
  const Field body(document, "");
  const auto text = [&](const char* name) {
    const auto field = body.find(name);
    return field ? std::optional(field->text(60)) : std::nullopt;
  };
  return desk_record(text("area"), text("stop"), entries);
}

DeskRecord desk_record(std::optional<std::string> area, std::optional<std::string> stop,
                       const std::vector<store::StoredEntry>& entries) {
  DeskRecord record;
  record.area = std::move(area);
  record.stop = std::move(stop);
  DeskFold fold(record);
  for (const auto& entry : entries) fold.add(entry);
  return record;
}

const char* name_of(Whereabouts whereabouts) { return whereabouts_names[static_cast<int>(whereabouts)]; }

Whereabouts read_whereabouts(const Field& field) {
  return static_cast<Whereabouts>(field.word({"not_known", "came_back", "lost"}));
}

std::vector<MissingLot> missing_of(const DeskDelivery& delivery) {
  std::vector<MissingLot> missing;
  const bool in_part = delivery.answer == Answer::received;
  if (!in_part && delivery.answer != Answer::not_received) return missing;
  for (const DeliveryLine& line : delivery.lines) {
    for (const DeliveredLot& lot : line.lots)
      missing.push_back({line.item, lot.lot, lot.packs * line.pieces_per_pack, line.pieces_per_pack, lot.expires});
  }
  std::vector<CameLine> here;
  if (in_part) here = delivery.came;
  for (const MissingLot& lot : delivery.settled) here.push_back({lot.item, lot.lot, lot.pieces});
  const auto take = [&](MissingLot& lot, const std::string& number) {
    for (CameLine& one : here) {
      if (one.item != lot.item || one.lot != number) continue;
      const int pieces = std::min(one.pieces, lot.pieces);
      one.pieces -= pieces;
      lot.pieces -= pieces;
    }
  };
  for (MissingLot& lot : missing) take(lot, lot.lot);
  for (MissingLot& lot : missing) take(lot, "");
  std::erase_if(missing, [](const MissingLot& lot) { return lot.pieces <= 0; });
  return missing;
}

void correct_lots(std::vector<DeskDelivery>& deliveries, const LotFacts& lots) {
  if (lots.corrected.empty()) return;
  for (DeskDelivery& delivery : deliveries) {
    for (CameLine& one : delivery.came) one.lot = lots.right({one.item, one.lot});
    for (MissingLot& one : delivery.settled) one.lot = lots.right({one.item, one.lot});
    for (DeliveryLine& line : delivery.lines) {
      std::vector<DeliveredLot> right;
      for (DeliveredLot& lot : line.lots) {
        lot.lot = lots.right({line.item, lot.lot});
        const auto same = std::find_if(right.begin(), right.end(), [&](const auto& one) { return one.lot == lot.lot; });
        if (same == right.end())
          right.push_back(lot);
        else
          same->packs += lot.packs;
      }
      line.lots = std::move(right);
    }
  }
}

Date read_date(const Field& field) {
  const std::string text = field.text(20);
  int year = 0;
  unsigned month = 0, day = 0;
  char end = 0;
  const bool form = text.size() == 10 && std::sscanf(text.c_str(), "%4d-%2u-%2u%c", &year, &month, &day, &end) == 3;
  const Date date{std::chrono::year{year}, std::chrono::month{month}, std::chrono::day{day}};
  if (!form || !date.ok() || year < 2000 || year > 2099)
    field.refuse("out-of-range", "is no date: expected one like 2026-12-02");
  return date;
}

nlohmann::json delivery_line_document(const DeliveryLine& line) {
  auto lots = nlohmann::json::array();
  for (const DeliveredLot& lot : line.lots) {
    nlohmann::json one{{"lot", lot.lot}, {"packs", lot.packs}};
    if (lot.expires) one["expires"] = json::month_text(*lot.expires);
    lots.push_back(std::move(one));
  }
  return {{"item", line.item}, {"packs", line.packs}, {"pieces_per_pack", line.pieces_per_pack}, {"lots", lots}};
}

DeliveryLine read_delivery_line(const Field& field) {
  DeliveryLine line;
  line.item = field["item"].text(60);
  line.packs = field["packs"].integer(0, 100'000);
  line.pieces_per_pack = field["pieces_per_pack"].integer(1, 100'000);
  for (const Field& one : field["lots"].elements(100)) {
    DeliveredLot lot;
    if (!one["lot"].value().get_ref<const std::string&>().empty()) lot.lot = one["lot"].text(60);
    lot.packs = one["packs"].integer(0, 100'000);
    if (const auto expires = one.find("expires")) lot.expires = expires->month();
    line.lots.push_back(std::move(lot));
  }
  return line;
}

nlohmann::json missing_lot_document(const MissingLot& lot) {
  nlohmann::json document{
      {"item", lot.item}, {"lot", lot.lot}, {"pieces", lot.pieces}, {"pieces_per_pack", lot.pieces_per_pack}};
  if (lot.expires) document["expires"] = json::month_text(*lot.expires);
  return document;
}

MissingLot read_missing_lot(const Field& field) {
  MissingLot lot;
  lot.item = field["item"].text(60);
  if (!field["lot"].value().get_ref<const std::string&>().empty()) lot.lot = field["lot"].text(60);
  lot.pieces = field["pieces"].integer(0, 1'000'000'000);
  lot.pieces_per_pack = field["pieces_per_pack"].integer(1, 100'000);
  if (const auto expires = field.find("expires")) lot.expires = expires->month();
  return lot;
}

}  // namespace cellarer::service
