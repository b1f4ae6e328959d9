// SPDX-License-Identifier: MIT
// The list as finished bytes: put in order and together once a version, and given out as often as it is asked for.
#include <algorithm>

#include "server/disclaimer.hpp"
#include "server/service/agency_board.hpp"

namespace cellarer::service {

namespace {

constexpr std::size_t most_pages = 64;

}  // namespace

/// Under the lock.
void AgencyBoard::assemble() {
  if (assembled_ == version_) return;
  std::vector<const BoardRow*> rows;
  rows.reserve(rows_.size());
  for (const auto& [key, row] : rows_)
    if (!row.written.json.empty()) rows.push_back(&row.written);
  std::sort(rows.begin(), rows.end(), [](const BoardRow* a, const BoardRow* b) { return a->urgency < b->urgency; });
  order_.clear();
  for (const BoardRow* row : rows) order_.push_back(&row->json);
  pages_.clear();
  assembled_ = version_;
}

std::string AgencyBoard::version() const {
  const std::lock_guard lock(mutex_);
  return version_text();
}

std::string AgencyBoard::version_text() const { return "b" + born_ + "-" + std::to_string(version_); }

BoardPage AgencyBoard::page(std::size_t from, std::size_t limit) {
  const std::lock_guard lock(mutex_);
  assemble();
  const auto progress = counted();
  const auto version = version_text();
  if (pages_.size() >= most_pages) pages_.clear();
  BoardPage& page = pages_[{from, limit}];
  if (page.json) return page;
  const std::size_t begin = std::min(from, order_.size());
  const std::size_t end = limit == 0 ? order_.size() : std::min(order_.size(), begin + limit);
  const Zone zone = zone_of_desks();
  std::string text = "{\"as_of\":" + nlohmann::json(json::rfc3339(frame_.now, zone)).dump();
  text += ",\"zone_now\":" + nlohmann::json(zone->name()).dump();
  text += ",\"disclaimer\":" + nlohmann::json(disclaimer).dump();
  text += ",\"computed\":" + std::to_string(progress.computed) + ",\"of\":" + std::to_string(progress.of);
  text += ",\"version\":\"" + version + "\",\"next\":";
  text += end < order_.size() ? "\"" + std::to_string(end) + "\"" : std::string("null");
  text += ",\"rows\":[";
  for (std::size_t i = begin; i < end; ++i) {
    if (i > begin) text += ",";
    text += *order_[i];
  }
  text += "]}";
  page.json = std::make_shared<const std::string>(std::move(text));
  page.etag = "\"" + version + "-" + std::to_string(from) + "-" + std::to_string(limit) + "\"";
  return page;
}

std::optional<std::string> AgencyBoard::row(const std::string& household_key) {
  const std::lock_guard lock(mutex_);
  const auto row = rows_.find(household_key);
  if (row == rows_.end() || row->second.written.json.empty()) return std::nullopt;
  return row->second.written.json;
}

}  // namespace cellarer::service
