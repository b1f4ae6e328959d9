// SPDX-License-Identifier: MIT
#include "server/service/lot_facts.hpp"

#include "model/stock/records.hpp"

namespace cellarer::service {

namespace {

/// Longer chains are circles (the door refuses both).
constexpr int longest_chain = 32;

std::string text_of(const nlohmann::json& body, const char* name) {
  const auto found = body.find(name);
  return found != body.end() && found->is_string() ? found->get<std::string>() : "";
}

std::string item_of(const json::Field& body) {
  const auto item = body.find("item");
  return item ? item->text(60) : std::string(stock::cells_item);
}

}  // namespace

AskedRecall read_recall(const json::Field& body) {
  AskedRecall asked{{item_of(body), body["lot"].text(60)}, std::nullopt};
  if (const auto why = body.find("why")) asked.why = why->text(200);
  return asked;
}

AskedCorrection read_lot_correction(const json::Field& body) {
  AskedCorrection asked{{item_of(body), body["from"].text(60)}, std::nullopt};
  const auto to = body.find("to");
  if (!to && !body.value().contains("to"))
    throw json::Refused("missing", "/to", "is required: the right number, or null to take a correction back");
  if (!to) return asked;
  asked.to = to->text(60);
  if (*asked.to == asked.from.lot) to->refuse("out-of-range", "is the same number");
  return asked;
}

std::string LotFacts::right(const LotName& lot) const {
  std::string number = lot.lot;
  for (int step = 0; step < longest_chain; ++step) {
    const auto found = corrected.find({lot.item, number});
    if (found == corrected.end()) break;
    number = found->second.to;
  }
  return number;
}

const LotRecall* LotFacts::recall_of(const LotName& lot) const {
  const auto found = recalled.find({lot.item, right(lot)});
  return found == recalled.end() ? nullptr : &found->second;
}

std::vector<std::string> LotFacts::written_as(const LotName& lot) const {
  std::vector<std::string> numbers;
  for (const auto& [wrong, correction] : corrected) {
    if (wrong.item == lot.item && wrong.lot != lot.lot && right(wrong) == lot.lot) numbers.push_back(wrong.lot);
  }
  return numbers;
}

LotFacts lot_facts(const std::vector<store::StoredAgencyEntry>& entries) {
  LotFacts facts;
  std::map<LotName, LotRecall> as_written;
  for (const store::StoredAgencyEntry& entry : entries) {
    const bool recall = entry.kind == agency_kind::lot_recall;
    if (!recall && entry.kind != agency_kind::lot_correction) continue;
    const auto body = json::parse(entry.body);
    const LotName lot{text_of(body, "item"), text_of(body, recall ? "lot" : "from")};
    if (recall && body.value("recalled", false)) {
      as_written[lot] = {entry.number, entry.recorded_at, text_of(body, "why"), entry.account};
    } else if (recall) {
      as_written.erase(lot);
    } else if (const auto to = text_of(body, "to"); to.empty()) {
      facts.corrected.erase(lot);
    } else {
      facts.corrected[lot] = {entry.number, to, entry.recorded_at, entry.account};
    }
  }
  // A recalled number that turned out to be written wrongly calls back the right one; the earliest recall counts.
  for (const auto& [lot, recall] : as_written) {
    const auto [kept, fresh] = facts.recalled.try_emplace({lot.item, facts.right(lot)}, recall);
    if (!fresh && recall.at < kept->second.at) kept->second = recall;
  }
  return facts;
}

Lots LotBook::of(const std::string& agency) {
  const auto version = journal_.version(agency);
  {
    const std::lock_guard lock(mutex_);
    const auto found = kept_.find(agency);
    if (found != kept_.end() && found->second.version >= version) return found->second.lots;
  }
  const auto entries = journal_.of(agency);
  const std::int64_t read = entries->empty() ? 0 : entries->back().number;
  auto facts = std::make_shared<const LotFacts>(lot_facts(*entries));
  const std::lock_guard lock(mutex_);
  Kept& kept = kept_[agency];
  if (kept.lots && kept.version >= read) return kept.lots;
  if (!kept.lots || !(*kept.lots == *facts)) kept.lots = std::move(facts);
  kept.version = read;
  return kept.lots;
}

}  // namespace cellarer::service
