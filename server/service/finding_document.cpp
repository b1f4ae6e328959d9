// SPDX-License-Identifier: MIT
#include "server/service/finding_document.hpp"

#include <algorithm>

#include "server/json/field.hpp"
#include "server/json/texts.hpp"
#include "server/service/finding_words.hpp"

namespace cellarer::service {

using review::Finding;

namespace {

/// Most probable first. That the home changes early by its own choice is no cause of how much is used.
nlohmann::json causes_document(const Finding& finding) {
  auto causes = nlohmann::json::array();
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < review::cause_count; ++i) {
    const bool of_use = static_cast<review::Cause>(i) != review::Cause::timing;
    if (of_use || finding.kind == review::Kind::changes_too_early) order.push_back(i);
  }
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return finding.causes[a] > finding.causes[b]; });
  for (const auto i : order) {
    const auto cause = static_cast<review::Cause>(i);
    causes.push_back({{"cause", name_of(cause)},
                      {"words", words_of(cause, less(finding))},
                      {"probability", finding.causes[i]},
                      {"probability_text", odds_words(finding.causes[i])}});
  }
  return causes;
}

}  // namespace

nlohmann::json finding_document(const Finding& finding, Zone zone) {
  const bool early = finding.kind == review::Kind::changes_too_early;
  nlohmann::json document{{"id", finding.id},
                          {"kind", name_of(finding.kind)},
                          {"title", title_of(finding)},
                          {"household", json::text_or_null(finding.household)},
                          {"scope", name_of(finding.scope)},
                          {"subject", json::text_or_null(finding.subject)},
                          {"raised_at", cellarer::json::rfc3339(finding.raised_at, zone)},
                          {"from", cellarer::json::rfc3339(finding.since, zone)},
                          {"ended_at", nullptr},
                          {"more_percent", nullptr},
                          {"low_percent", nullptr},
                          {"high_percent", nullptr},
                          {"probability", finding.probability},
                          {"probability_text", odds_words(finding.probability)},
                          {"causes", causes_document(finding)},
                          {"named", nullptr},
                          {"verdict", verdict_of(finding)},
                          {"evidence", evidence_of(finding)},
                          {"next", nlohmann::json::array()}};
  if (finding.ended_at) document["ended_at"] = cellarer::json::rfc3339(*finding.ended_at, zone);
  if (!early) {
    const double width = 1.96 * finding.change.sd;
    document["more_percent"] = percent_more(finding.change.mean);
    document["low_percent"] = percent_more(finding.change.mean - width);
    document["high_percent"] = percent_more(finding.change.mean + width);
  }
  if (finding.named) document["named"] = name_of(*finding.named);
  for (const auto& next : finding.next)
    document["next"].push_back({{"step", name_of(next.step)}, {"words", words_of(next.step)}, {"bits", next.bits}});
  document["text"] = title_of(finding) + " " + verdict_of(finding);
  return document;
}

}  // namespace cellarer::service
