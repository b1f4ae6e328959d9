// SPDX-License-Identifier: MIT
#include "server/log.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <memory>
#include <mutex>
#include <string>

#include <spdlog/pattern_formatter.h>
#include <spdlog/sinks/base_sink.h>
#include <spdlog/spdlog.h>
#include <nlohmann/json.hpp>

namespace cellarer {

namespace {

/// The text as a JSON string: whatever a stranger's address holds, a line stays one object.
class JsonText : public spdlog::custom_flag_formatter {
 public:
  void format(const spdlog::details::log_msg& message, const std::tm&, spdlog::memory_buf_t& line) override {
    const auto plain = [](char c) { return c >= 0x20 && c < 0x7f && c != '"' && c != '\\'; };
    if (std::all_of(message.payload.begin(), message.payload.end(), plain)) {
      line.push_back('"');
      line.append(message.payload.begin(), message.payload.end());
      line.push_back('"');
      return;
    }
    const nlohmann::json text = std::string(message.payload.data(), message.payload.size());
    const auto quoted = text.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
    line.append(quoted.data(), quoted.data() + quoted.size());
  }
  std::unique_ptr<spdlog::custom_flag_formatter> clone() const override { return std::make_unique<JsonText>(); }
};

/// Standard error, a line at a time; where lines come fast, many at a time, because a call of the system for each costs
/// as much as the answer that it tells of. A warning goes out at once, with all before it. What is kept back goes out
/// with `flush`, which the service calls ten times a second.
class StandardError final : public spdlog::sinks::base_sink<std::mutex> {
 public:
  ~StandardError() override { write_out(); }

 private:
  static constexpr int lines_at_once = 64;  ///< in one period that go out by themselves
  static constexpr std::chrono::milliseconds period{100};
  static constexpr std::size_t most_bytes = 64 * 1024;

  void sink_it_(const spdlog::details::log_msg& message) override {
    spdlog::memory_buf_t line;
    formatter_->format(message, line);
    kept_.append(line.data(), line.size());
    if (message.time - began_ >= period || message.time < began_) {
      began_ = message.time;
      lines_ = 0;
    }
    const bool now = ++lines_ <= lines_at_once || message.level >= spdlog::level::warn || kept_.size() >= most_bytes;
    if (now) write_out();
  }
  void flush_() override { write_out(); }
  void write_out() {
    if (!kept_.empty()) std::fwrite(kept_.data(), 1, kept_.size(), stderr);
    kept_.clear();
  }

  std::string kept_;
  int lines_ = 0;
  spdlog::log_clock::time_point began_;
};

}  // namespace

void prepare_log(bool as_json) {
  auto formatter = std::make_unique<spdlog::pattern_formatter>();
  formatter->add_flag<JsonText>('*').set_pattern(as_json ? R"({"at":"%Y-%m-%dT%H:%M:%S.%e%z","level":"%l","text":%*})"
                                                         : "%Y-%m-%dT%H:%M:%S.%e%z %l %v");
  auto log = std::make_shared<spdlog::logger>("cellarer", std::make_shared<StandardError>());
  log->set_formatter(std::move(formatter));
  spdlog::set_default_logger(log);
}

}  // namespace cellarer
