// SPDX-License-Identifier: MIT
#include "server/json/field.hpp"

namespace cellarer::json {

namespace {

/// Builds the document, and refuses on the way what nlohmann's own builder lets pass: what is nested too deep, and a
/// key that its object has already. With a callback its builder could refuse them too, and took half as long again.
class Builder final : public nlohmann::json_sax<nlohmann::json> {
 public:
  explicit Builder(std::string_view text) : text_(text) { open_.reserve(8); }

  nlohmann::json document() { return std::move(document_); }

  bool null() override { return put(nullptr); }
  bool boolean(bool value) override { return put(value); }
  bool number_integer(number_integer_t value) override { return put(value); }
  bool number_unsigned(number_unsigned_t value) override { return put(value); }
  bool number_float(number_float_t value, const string_t&) override { return put(value); }
  bool string(string_t& value) override { return put(value); }
  bool binary(binary_t& value) override { return put(value); }
  bool start_object(std::size_t) override { return open(nlohmann::json::object()); }
  bool end_object() override { return close(); }
  bool start_array(std::size_t) override { return open(nlohmann::json::array()); }
  bool end_array() override { return close(); }

  bool key(string_t& name) override {
    refuse_too_deep();
    const auto [member, is_new] = open_.back()->get_ref<nlohmann::json::object_t&>().try_emplace(name);
    if (!is_new)
      throw Refused("duplicate", "",
                    "gives " + nlohmann::json(name).dump() + " twice in one object: keep one of the two");
    member_ = &member->second;
    return true;
  }

  bool parse_error(std::size_t octet, const std::string&, const nlohmann::json::exception& error) override {
    if (dynamic_cast<const nlohmann::json::out_of_range*>(&error) != nullptr)
      throw Refused("not-json", "", "holds a number that does not fit");
    std::size_t line = 1, column = 1;
    for (std::size_t i = 0; i + 1 < octet && i < text_.size(); ++i) {
      if (text_[i] == '\n')
        ++line, column = 1;
      else
        ++column;
    }
    throw Refused("not-json", "", "is not JSON: line " + std::to_string(line) + ", column " + std::to_string(column));
  }

 private:
  static constexpr std::size_t deepest = 32;

  void refuse_too_deep() const {
    if (open_.size() > deepest)
      throw Refused("not-json", "", "is nested deeper than " + std::to_string(deepest) + " levels");
  }

  /// Where the next value stands: the whole document, an element, or the member whose key was last.
  nlohmann::json& next() {
    refuse_too_deep();
    if (open_.empty()) return document_;
    return open_.back()->is_array() ? open_.back()->emplace_back() : *member_;
  }

  template <class Value>
  bool put(Value&& value) {
    next() = std::forward<Value>(value);
    return true;
  }

  bool open(nlohmann::json&& empty) {
    nlohmann::json& here = next();
    here = std::move(empty);
    open_.push_back(&here);
    return true;
  }

  bool close() {
    open_.pop_back();
    return true;
  }

  std::string_view text_;
  nlohmann::json document_;
  std::vector<nlohmann::json*> open_;  ///< objects and arrays, the innermost last
  nlohmann::json* member_ = nullptr;
};

}  // namespace

nlohmann::json parse(std::string_view text) {
  Builder builder(text);
  nlohmann::json::sax_parse(text, &builder);
  return builder.document();
}

}  // namespace cellarer::json
