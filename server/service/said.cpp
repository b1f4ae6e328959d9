// SPDX-License-Identifier: MIT
#include "server/service/said.hpp"

#include "server/json/field.hpp"
#include "server/service/fold.hpp"
#include "server/service/plan_facts.hpp"

namespace cellarer::service {

using json::Field;

namespace {

void take_answer(Said& said, const store::StoredEntry& entry, const Field& body) {
  const auto about = body["entry"].value().get<std::int64_t>();
  switch (body["answer"].word({"same", "different", "still"})) {
    case 0:
      said.same[about] = entry.number;
      said.different.erase(about);
      break;
    case 1:
      said.different.insert(about);
      said.same.erase(about);
      break;
    default:
      said.still[about] = entry.at;
  }
}

}  // namespace

Said what_entries_say(const std::vector<store::StoredEntry>& entries) {
  Said said;
  for (const auto& entry : entries) {
    if (entry.voided_by || (entry.kind != kind::answer && entry.kind != kind::end)) continue;
    const auto document = json::parse(entry.body);
    const Field body(document, "");
    if (entry.kind == kind::answer)
      take_answer(said, entry, body);
    else
      said.ended[body["entry"].value().get<std::int64_t>()] = body["at"].value().get<std::string>();
  }
  return said;
}

nlohmann::json ended(const std::string& what, nlohmann::json body, const std::string& to) {
  body["to"] = to;
  const Field field(body, "");
  if (what == kind::stay) read_stay(field);
  if (what == kind::paced) read_paced_instead(field);
  if (what == kind::paced_more) read_paced_more(field);
  if (what == kind::switched_off) read_switched_off(field);
  return body;
}

nlohmann::json with_end(const Said& said, const store::StoredEntry& entry) {
  auto body = json::parse(entry.body);
  const auto end = said.ended.find(entry.number);
  if (end == said.ended.end()) return body;
  try {
    return ended(entry.kind, body, end->second);
  } catch (const json::Refused&) {
    return body;
  }
}

}  // namespace cellarer::service
