// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>
#include <initializer_list>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>

#include "model/quantities/time.hpp"

/// Reading JSON that a stranger wrote: every value is fetched with its range, and what does not fit is
/// refused with the place (a JSON pointer, RFC 6901), the reason, and what would be right.
namespace cellarer::json {

/// The one exception of the readers. It is caught where an answer is made: in the API's dispatcher and in
/// each command's entry, nowhere between.
class Refused : public std::runtime_error {
 public:
  Refused(std::string code, std::string place, std::string reason)
      : std::runtime_error((place.empty() ? std::string("the document") : place) + ": " + reason),
        code_(std::move(code)),
        place_(std::move(place)),
        reason_(std::move(reason)) {}
  const std::string& code() const { return code_; }      ///< stable: "out-of-range", "wrong-type", "missing", ...
  const std::string& place() const { return place_; }    ///< "/discharges/3/hours"
  const std::string& reason() const { return reason_; }  ///< a sentence that says what would be right

 private:
  std::string code_, place_, reason_;
};

/// A value and where it stands. Cheap to copy; must not outlive the document.
class Field {
 public:
  Field(const nlohmann::json& value, std::string place) : value_(&value), place_(std::move(place)) {}

  Field operator[](const char* name) const;           ///< required member
  std::optional<Field> find(const char* name) const;  ///< absent or null: none
  std::vector<Field> elements(std::size_t at_most = 100'000) const;
  double number(double lowest, double highest) const;  ///< finite, within the closed range
  int integer(int lowest, int highest) const;
  bool boolean() const;
  std::string text(std::size_t longest = 200) const;  ///< valid UTF-8 without control characters, not empty
  Instant instant() const;                            ///< RFC 3339 with offset
  std::chrono::year_month month() const;              ///< "2033-01"
  std::chrono::minutes time_of_day() const;           ///< "21:30"; "24:00" is allowed
  /// One of the given words; answers its index.
  std::size_t word(std::initializer_list<const char*> words) const;
  [[noreturn]] void refuse(const char* code, const std::string& reason) const;

  const nlohmann::json& value() const { return *value_; }
  const std::string& place() const { return place_; }

 private:
  const nlohmann::json* value_;
  std::string place_;
};

/// The text as JSON, or `Refused` "not-json" with line and column. Refuses nesting deeper than 32,
/// numbers that do not fit a double, and a key given twice in one object ("duplicate").
nlohmann::json parse(std::string_view text);

/// Without members that are null, at any depth: they say what absent ones say (`Field::find`). Lists keep theirs, as
/// they count.
nlohmann::json without_nulls(nlohmann::json document);

/// RFC 3339 in the zone's offset at that moment: "2026-03-01T21:30:00+01:00". Null zone: UTC with Z.
std::string rfc3339(Instant at, Zone zone);
/// None where the text is not RFC 3339 with an offset. Fractions of a second are dropped.
std::optional<Instant> parse_rfc3339(std::string_view text);

}  // namespace cellarer::json
