// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <mutex>
#include <stdexcept>
#include <string>
#include <unordered_map>
#include <vector>

#include "server/json/field.hpp"

namespace cellarer::commands {

/// What a forecast was made from. Whoever has one made from the same, not long ago, need not make it again.
struct MadeFrom {
  std::int64_t entry = 0;         ///< newest of the household
  std::int64_t agency_entry = 0;  ///< newest of its agency: lots, profiles
  std::string learned;            ///< tag of what the agency's households have taught
  bool operator==(const MadeFrom&) const = default;
};

/// Where a reforecast writes: a line of JSON a household, added in the order of references; of two lines for one
/// household the later counts. A run that was cut off leaves whole lines and at most one torn one behind: opened again,
/// the file drops that one and knows what is done.
class ReforecastFile {
 public:
  /// Throws std::runtime_error where the file is something else, or cannot be written.
  explicit ReforecastFile(const std::filesystem::path& file) : unreadable_("cannot read " + file.string()) {
    if (std::filesystem::exists(file)) read(file);
    lines_.open(file, std::ios::binary | std::ios::app);
    if (!lines_) throw std::runtime_error("cannot write " + file.string());
  }

  /// Whether the household's line still says what would be computed as of `at`, or as good as: not after it, and not
  /// so long before it that a page would call it old (9.4).
  bool is_current(const std::string& household, const MadeFrom& now, Instant at) const {
    const auto found = known_.find(household);
    if (found == known_.end()) return false;
    const Known& known = found->second;
    return known.from == now && known.as_of <= at && at - known.as_of < std::chrono::hours(12);
  }

  /// What the household's ended sets had taught when its line was written; empty where that is not known. From any
  /// thread.
  std::string lessons_of(const std::string& household) {
    const auto found = known_.find(household);
    if (found == known_.end() || found->second.lessons_size == 0) return "";
    std::string text(found->second.lessons_size, ' ');
    const std::lock_guard lock(mutex_);
    before_.seekg(found->second.lessons_at);
    if (!before_.read(text.data(), static_cast<std::streamsize>(text.size()))) throw std::runtime_error(unreadable_);
    return text;
  }

  /// `forecast`: a JSON object, as text. `lessons`: letters that JSON takes as they are.
  static std::string line(const std::string& household, const MadeFrom& from, Instant as_of, const std::string& lessons,
                          const std::string& forecast) {
    const nlohmann::json about{{"household", household},
                               {"as_of", cellarer::json::rfc3339(as_of, nullptr)},
                               {"entry", from.entry},
                               {"agency_entry", from.agency_entry},
                               {"learned", from.learned}};
    auto text = about.dump();
    text.back() = ',';
    if (!lessons.empty()) text += lessons_begin + lessons + "\",";
    return text + forecast_begin + forecast + "}\n";
  }

  /// The lines of a batch; on the disk's way when this returns.
  void add(const std::vector<std::string>& lines) {
    for (const auto& one : lines) lines_ << one;
    if (!lines_.flush()) throw std::runtime_error("the forecasts cannot be written: is the disk full?");
  }

 private:
  struct Known {
    MadeFrom from;
    Instant as_of;
    std::streamoff lessons_at;  ///< in the file: a hundred thousand of them need not be in memory
    std::size_t lessons_size;
  };
  static constexpr const char *lessons_begin = "\"lessons\":\"", *forecast_begin = "\"forecast\":";

  void read(const std::filesystem::path& file) {
    std::ifstream stream(file, std::ios::binary);
    std::uintmax_t whole = 0;
    for (std::string text; std::getline(stream, text) && !stream.eof(); whole += text.size() + 1) {
      // What is told of the forecast stands before it, and before the lessons: the two are most of the line.
      const auto forecast = text.find(forecast_begin);
      const auto lessons = std::min(forecast, std::string_view(text).substr(0, forecast).find(lessons_begin));
      const auto document = forecast == text.npos || lessons == 0
                                ? nlohmann::json()
                                : nlohmann::json::parse(text.substr(0, lessons - 1) + "}", nullptr, false);
      const auto as_of =
          document.is_object() ? cellarer::json::parse_rfc3339(document.value("as_of", "")) : std::nullopt;
      if (!as_of || !text.ends_with("}}"))
        throw std::runtime_error(file.string() + " holds something else than forecasts: name another file");
      const auto lessons_at = lessons + std::string_view(lessons_begin).size();
      known_[document.value("household", "")] = {
          {document.value("entry", std::int64_t{0}), document.value("agency_entry", std::int64_t{0}),
           document.value("learned", "")},
          *as_of,
          static_cast<std::streamoff>(whole + lessons_at),
          lessons < forecast ? text.find('"', lessons_at) - lessons_at : 0};
    }
    stream.close();
    std::filesystem::resize_file(file, whole);
    before_.open(file, std::ios::binary);
  }

  std::unordered_map<std::string, Known> known_;
  std::string unreadable_;
  std::mutex mutex_;
  std::ifstream before_;  ///< the lines that were there
  std::ofstream lines_;
};

}  // namespace cellarer::commands
