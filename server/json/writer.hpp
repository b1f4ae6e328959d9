// SPDX-License-Identifier: MIT
#pragma once
#include <concepts>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

namespace cellarer::json {

/// Writes JSON member by member, in the order in which it is told: the same octets as nlohmann's `dump()`, without the
/// tree, which takes several times as long to build and to dump. For documents that are made anew all the time.
class Writer {
 public:
  void value(std::nullptr_t) { write("null"); }
  void value(bool value) { write(value ? "true" : "false"); }
  void value(std::integral auto value) { write(std::to_string(value)); }
  void value(double value);
  void value(std::string_view text);
  void value(const std::string& text) { value(std::string_view(text)); }
  void value(const char* text) { value(std::string_view(text)); }
  void value(const nlohmann::ordered_json& document) { write(document.dump()); }
  void value(const std::vector<std::string>& texts) {
    array([&] {
      for (const auto& text : texts) value(text);
    });
  }
  /// Null for none.
  template <class Value>
  void value(const std::optional<Value>& perhaps) {
    if (perhaps)
      value(*perhaps);
    else
      value(nullptr);
  }

  /// `members` writes them; `elements` writes those of an array.
  template <class Members>
  void object(const Members& members) {
    open('{');
    members();
    close('}');
  }
  template <class Elements>
  void array(const Elements& elements) {
    open('[');
    elements();
    close(']');
  }

  /// What is written next is the member's value. The name is one of ours: letters that JSON takes as they are.
  void key(std::string_view name);

  template <class Value>
  void member(std::string_view name, const Value& value) {
    key(name);
    this->value(value);
  }
  template <class Members>
  void object(std::string_view name, const Members& members) {
    key(name);
    object(members);
  }
  template <class Elements>
  void array(std::string_view name, const Elements& elements) {
    key(name);
    array(elements);
  }

  /// A member whose value was written by another writer.
  void document(std::string_view name, std::string_view written) {
    key(name);
    write(written);
  }

  /// All that was written; once, at the end.
  std::string take() { return std::move(text_); }

 private:
  void separate() {
    if (follows_) text_ += ',';
    follows_ = true;
  }
  void write(std::string_view plain) {
    separate();
    text_ += plain;
  }
  void open(char bracket) {
    separate();
    text_ += bracket;
    follows_ = false;
  }
  void close(char bracket) {
    text_ += bracket;
    follows_ = true;
  }

  std::string text_;
  bool follows_ = false;  ///< what is written next comes after a value, so after a comma
};

}  // namespace cellarer::json
