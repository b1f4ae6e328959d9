// SPDX-License-Identifier: MIT
#include "server/log.hpp"

#include <memory>
#include <string>

#include <spdlog/pattern_formatter.h>
#include <spdlog/sinks/stdout_color_sinks.h>
#include <spdlog/spdlog.h>
#include <nlohmann/json.hpp>

namespace cellarer {

namespace {

/// The text as a JSON string: whatever a stranger's address holds, a line stays one object.
class JsonText : public spdlog::custom_flag_formatter {
 public:
  void format(const spdlog::details::log_msg& message, const std::tm&, spdlog::memory_buf_t& line) override {
    const nlohmann::json text = std::string(message.payload.data(), message.payload.size());
    const auto quoted = text.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
    line.append(quoted.data(), quoted.data() + quoted.size());
  }
  std::unique_ptr<spdlog::custom_flag_formatter> clone() const override { return std::make_unique<JsonText>(); }
};

}  // namespace

void prepare_log(bool as_json) {
  auto formatter = std::make_unique<spdlog::pattern_formatter>();
  formatter->add_flag<JsonText>('*').set_pattern(as_json ? R"({"at":"%Y-%m-%dT%H:%M:%S.%e%z","level":"%l","text":%*})"
                                                         : "%Y-%m-%dT%H:%M:%S.%e%z %l %v");
  auto log = spdlog::stderr_color_mt("cellarer");
  log->set_formatter(std::move(formatter));
  log->flush_on(spdlog::level::info);
  spdlog::set_default_logger(log);
}

}  // namespace cellarer
