// SPDX-License-Identifier: MIT
#include "server/service/said.hpp"

#include "server/json/field.hpp"
#include "server/service/fold.hpp"

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

nlohmann::json with_end(const Said& said, std::int64_t entry, nlohmann::json body) {
  const auto ended = said.ended.find(entry);
  if (ended != said.ended.end()) body["to"] = ended->second;
  return body;
}

}  // namespace cellarer::service
