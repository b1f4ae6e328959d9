// SPDX-License-Identifier: MIT
#include "server/json/field.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "server/json/utf8.hpp"

namespace cellarer::json {

namespace {

std::string plain(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.10g", value);
  return text;
}

std::string range_text(double lowest, double highest) { return plain(lowest) + " to " + plain(highest); }

/// Reads exactly `digits` decimal digits at `position`, or answers none.
std::optional<int> digits_at(std::string_view text, std::size_t position, std::size_t digits) {
  if (position + digits > text.size()) return std::nullopt;
  int number = 0;
  for (std::size_t i = position; i < position + digits; ++i) {
    if (text[i] < '0' || text[i] > '9') return std::nullopt;
    number = number * 10 + (text[i] - '0');
  }
  return number;
}

bool has(std::string_view text, std::size_t position, char mark) {
  return position < text.size() && text[position] == mark;
}

/// Control characters would break logs and screens.
bool has_control_character(const std::string& text) {
  for (const char c : text) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) return true;
  }
  return false;
}

/// Where a member stands: most names as they are, without a step for each letter.
std::string place_of(const std::string& object, std::string_view name) {
  const auto is_escaped = [](char c) { return c == '~' || c == '/'; };
  std::string place = object;
  place += '/';
  if (std::none_of(name.begin(), name.end(), is_escaped)) {
    place += name;
    return place;
  }
  for (const char c : name) {
    if (is_escaped(c))
      place += c == '~' ? "~0" : "~1";
    else
      place += c;
  }
  return place;
}

/// "left or right", "a, b or c"
std::string one_of(std::initializer_list<const char*> words) {
  std::string text;
  std::size_t index = 0;
  for (const char* word : words) {
    text += (index == 0 ? "" : index + 1 == words.size() ? " or " : ", ") + std::string(word);
    ++index;
  }
  return text;
}

/// What `Field::text` answers, where it stands.
const std::string& checked_text(const Field& field, std::size_t longest) {
  if (!field.value().is_string()) field.refuse("wrong-type", "expected a text");
  const auto& text = field.value().get_ref<const std::string&>();
  if (text.empty()) field.refuse("out-of-range", "is empty");
  if (text.size() > longest) field.refuse("too-long", "is longer than " + std::to_string(longest) + " bytes");
  if (!is_utf8(text)) field.refuse("wrong-type", "is not UTF-8");
  if (has_control_character(text)) field.refuse("out-of-range", "holds a control character");
  return text;
}

}  // namespace

void Field::refuse(const char* code, const std::string& reason) const { throw Refused(code, place_, reason); }

std::optional<Field> Field::find(const char* name) const {
  if (!value_->is_object()) refuse("wrong-type", "expected an object");
  const auto found = value_->find(std::string_view(name));
  if (found == value_->end() || found->is_null()) return std::nullopt;
  return std::optional<Field>(std::in_place, *found, place_of(place_, name));
}

Field Field::operator[](const char* name) const {
  auto found = find(name);
  if (!found) throw Refused("missing", place_of(place_, name), "is required and missing");
  return *std::move(found);
}

std::vector<Field> Field::elements(std::size_t at_most) const {
  if (!value_->is_array()) refuse("wrong-type", "expected an array");
  if (value_->size() > at_most) refuse("too-long", "has more than " + std::to_string(at_most) + " elements");
  std::vector<Field> fields;
  fields.reserve(value_->size());
  for (std::size_t i = 0; i < value_->size(); ++i) fields.emplace_back((*value_)[i], place_ + "/" + std::to_string(i));
  return fields;
}

double Field::number(double lowest, double highest) const {
  if (!value_->is_number()) refuse("wrong-type", "expected a number from " + range_text(lowest, highest));
  const double number = value_->get<double>();
  if (!std::isfinite(number) || number < lowest || number > highest) {
    refuse("out-of-range", plain(number) + " is outside " + range_text(lowest, highest));
  }
  return number;
}

int Field::integer(int lowest, int highest) const {
  const double number = this->number(lowest, highest);
  if (number != std::floor(number)) refuse("wrong-type", "expected a whole number from " + range_text(lowest, highest));
  return static_cast<int>(number);
}

bool Field::boolean() const {
  if (!value_->is_boolean()) refuse("wrong-type", "expected true or false");
  return value_->get<bool>();
}

std::string Field::text(std::size_t longest) const { return checked_text(*this, longest); }

Instant Field::instant() const {
  const auto at = parse_rfc3339(checked_text(*this, 64));
  if (!at) refuse("wrong-type", "expected a time with its offset, such as 2026-03-01T21:30:00+01:00 (RFC 3339)");
  return *at;
}

std::chrono::year_month Field::month() const {
  const auto& text = checked_text(*this, 16);
  const auto year = digits_at(text, 0, 4), month = digits_at(text, 5, 2);
  if (text.size() != 7 || !year || !month || !has(text, 4, '-') || *month < 1 || *month > 12) {
    refuse("wrong-type", "expected a month such as 2033-01");
  }
  return std::chrono::year(*year) / *month;
}

std::chrono::minutes Field::time_of_day() const {
  const auto& text = checked_text(*this, 16);
  const auto hour = digits_at(text, 0, 2), minute = digits_at(text, 3, 2);
  const bool form = text.size() == 5 && hour && minute && has(text, 2, ':') && *minute < 60;
  if (!form || *hour * 60 + *minute > 24 * 60) refuse("wrong-type", "expected a time of day from 00:00 to 24:00");
  return std::chrono::minutes(*hour * 60 + *minute);
}

std::size_t Field::word(std::initializer_list<const char*> words) const {
  std::size_t index = 0;
  for (const char* word : words) {
    if (value_->is_string() && value_->get_ref<const std::string&>() == word) return index;
    ++index;
  }
  refuse(value_->is_string() ? "out-of-range" : "wrong-type", "expected " + one_of(words));
}

nlohmann::json without_nulls(nlohmann::json document) {
  if (document.is_object()) {
    for (auto member = document.begin(); member != document.end();)
      member = member->is_null() ? document.erase(member) : std::next(member);
  }
  if (document.is_structured()) {
    for (nlohmann::json& inner : document) inner = without_nulls(std::move(inner));
  }
  return document;
}

std::optional<Instant> parse_rfc3339(std::string_view text) {
  const auto year = digits_at(text, 0, 4), month = digits_at(text, 5, 2), day = digits_at(text, 8, 2);
  const auto hour = digits_at(text, 11, 2), minute = digits_at(text, 14, 2), second = digits_at(text, 17, 2);
  if (!year || !month || !day || !hour || !minute || !second) return std::nullopt;
  const bool marks = has(text, 4, '-') && has(text, 7, '-') && (has(text, 10, 'T') || has(text, 10, 't')) &&
                     has(text, 13, ':') && has(text, 16, ':');
  const auto date = std::chrono::year(*year) / *month / *day;
  if (!marks || !date.ok() || *hour > 23 || *minute > 59 || *second > 60) return std::nullopt;
  std::size_t position = 19;
  if (has(text, position, '.')) {
    const std::size_t first = ++position;
    while (digits_at(text, position, 1)) ++position;
    if (position == first) return std::nullopt;
  }
  std::chrono::minutes offset{};
  if (has(text, position, 'Z') || has(text, position, 'z')) {
    if (position + 1 != text.size()) return std::nullopt;
  } else {
    const auto offset_hour = digits_at(text, position + 1, 2), offset_minute = digits_at(text, position + 4, 2);
    const bool form = (has(text, position, '+') || has(text, position, '-')) && has(text, position + 3, ':') &&
                      offset_hour && offset_minute && position + 6 == text.size();
    if (!form || *offset_hour > 23 || *offset_minute > 59) return std::nullopt;
    offset = std::chrono::minutes((text[position] == '-' ? -1 : 1) * (*offset_hour * 60 + *offset_minute));
  }
  return std::chrono::sys_days(date) + std::chrono::hours(*hour) + std::chrono::minutes(*minute) +
         std::chrono::seconds(*second) - offset;
}

namespace {

/// Two decimal digits after a mark; the place after them.
char* put_two(char* to, char mark, long value) {
  to[0] = mark;
  to[1] = static_cast<char>('0' + value / 10);
  to[2] = static_cast<char>('0' + value % 10);
  return to + 3;
}

/// By hand: a forecast has some hundred times, and a stream that formats one takes longer than finding its offset.
std::string wall_clock(std::chrono::sys_seconds wall) {
  const auto day = std::chrono::floor<std::chrono::days>(wall);
  const std::chrono::year_month_day date{day};
  const int year = static_cast<int>(date.year());
  if (year < 0 || year > 9999) return date::format("%FT%T", wall);
  const long second = (wall - day).count();
  char text[24] = {static_cast<char>('0' + year / 1000), static_cast<char>('0' + year / 100 % 10),
                   static_cast<char>('0' + year / 10 % 10), static_cast<char>('0' + year % 10)};
  char* end = put_two(text + 4, '-', static_cast<unsigned>(date.month()));
  end = put_two(end, '-', static_cast<unsigned>(date.day()));
  end = put_two(end, 'T', second / 3600);
  end = put_two(end, ':', second / 60 % 60);
  end = put_two(end, ':', second % 60);
  return {text, end};
}

}  // namespace

std::string rfc3339(Instant at, Zone zone) {
  if (zone == nullptr) return wall_clock(at) + "Z";
  const auto offset = zone->get_info(at).offset;
  const long minutes = std::chrono::duration_cast<std::chrono::minutes>(offset).count();
  char text[8];
  put_two(put_two(text, minutes < 0 ? '-' : '+', std::abs(minutes) / 60), ':', std::abs(minutes) % 60);
  return wall_clock(at + offset).append(text, 6);
}

}  // namespace cellarer::json
