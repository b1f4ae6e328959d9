// SPDX-License-Identifier: MIT
#include "server/service/agency_help.hpp"

#include <algorithm>
#include <sstream>

namespace cellarer::service {

using json::Field;

namespace {

constexpr std::size_t longest_number = 40, longest_label = 80, longest_role = 60, longest_words = 200,
                      longest_more = 400, most_steps = 8;

std::optional<std::string> text_of(const Field& body, const char* name, std::size_t longest) {
  const auto found = body.find(name);
  return found ? std::optional(found->text(longest)) : std::nullopt;
}

/// What a telephone can dial, as people write it.
void check_number(const Field& number) {
  const auto text = number.text(longest_number);
  const auto digits = std::count_if(text.begin(), text.end(), [](unsigned char c) { return std::isdigit(c) != 0; });
  const bool writable = text.find_first_not_of("+0123456789 ()-/.") == std::string::npos;
  if (!writable || digits < 2) number.refuse("out-of-range", "expected a telephone number, as +47 22 00 00 00");
}

void check_day(const Field& day) {
  std::istringstream text(day.text(10));
  date::year_month_day read{};
  text >> date::parse("%Y-%m-%d", read);
  if (text.fail() || !read.ok() || text.peek() != std::istringstream::traits_type::eof())
    day.refuse("out-of-range", "expected a day, as 2026-11-20");
}

}  // namespace

AgencyHelp read_help(const Field& body) {
  AgencyHelp help;
  if (const auto number = body.find("number")) check_number(*number);
  help.number = text_of(body, "number", longest_number);
  help.label = text_of(body, "label", longest_label);
  if (const auto steps = body.find("steps")) {
    for (const Field& one : steps->elements(most_steps))
      help.steps.push_back({one["words"].text(longest_words), text_of(one, "more", longest_more)});
  }
  help.approved_by = text_of(body, "approved_by", longest_role);
  if (const auto day = body.find("approved_on")) check_day(*day);
  help.approved_on = text_of(body, "approved_on", 10);
  if (help.approved_by && !help.approved_on) body["approved_on"];
  if (help.approved_on && !help.approved_by) body["approved_by"];
  if (help.approved_by && help.steps.empty())
    body["approved_by"].refuse("out-of-range", "approves no words: give steps, or leave it out");
  return help;
}

AgencyHelp help_of(const std::vector<store::StoredAgencyEntry>& entries) {
  const auto newest =
      std::find_if(entries.rbegin(), entries.rend(), [](const auto& entry) { return entry.kind == help_kind; });
  if (newest == entries.rend()) return {};
  const auto document = json::parse(newest->body);
  AgencyHelp help = read_help(Field(document, ""));
  help.entry = newest->number;
  help.recorded_at = newest->recorded_at;
  return help;
}

}  // namespace cellarer::service
