// SPDX-License-Identifier: MIT
#pragma once
#include <Eigen/Core>
#include <array>
#include <boost/pfr.hpp>
#include <chrono>
#include <cstring>
#include <map>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "model/cell/curve.hpp"
#include "model/quantities/time.hpp"

/// The octets that a value of the records comes to, member by member, so that two that differ in anything have
/// different ones. Whoever keeps what was computed from such values keeps a digest of them beside it. Members are found
/// by the compiler: a new one counts from the day it is there.
namespace cellarer::life {

class Basis {
 public:
  template <class Value>
  void add(const Value& value) {
    if constexpr (std::is_arithmetic_v<Value> || std::is_enum_v<Value>) {
      add_octets(&value, sizeof value);
    } else if constexpr (is_array<Value>::value) {
      add_all(value);
    } else if constexpr (std::is_aggregate_v<Value>) {
      boost::pfr::for_each_field(value, [&](const auto& member) { add(member); });
    } else {
      add_known(value);
    }
  }
  const std::string& octets() const { return octets_; }

 private:
  template <class>
  struct is_array : std::false_type {};
  template <class Value, std::size_t size>
  struct is_array<std::array<Value, size>> : std::true_type {};

  std::string octets_;

  void add_octets(const void* from, std::size_t size) { octets_.append(static_cast<const char*>(from), size); }
  template <class Range>
  void add_all(const Range& range) {
    for (const auto& one : range) add(one);
  }
  template <class Rep, class Period>
  void add_known(const std::chrono::duration<Rep, Period>& span) {
    add(span.count());
  }
  template <class Clock, class Span>
  void add_known(const std::chrono::time_point<Clock, Span>& at) {
    add(at.time_since_epoch());
  }
  void add_known(const std::chrono::year_month& month) {
    add(static_cast<int>(month.year()));
    add(static_cast<unsigned>(month.month()));
  }
  void add_known(const std::string& text) {
    add(text.size());
    octets_ += text;
  }
  void add_known(const Zone& zone) { add(zone == nullptr ? std::string() : zone->name()); }
  template <int rows, int columns>
  void add_known(const Eigen::Matrix<double, rows, columns>& matrix) {
    static_assert(rows > 0 && columns > 0);
    add_octets(matrix.data(), sizeof(double) * rows * columns);
  }
  void add_known(const cell::Curve& curve) {
    static_assert(std::is_trivially_copyable_v<cell::Curve> && sizeof(cell::Curve) % sizeof(double) == 0);
    add_octets(&curve, sizeof curve);  // numbers are all that it is
  }
  template <class Value>
  void add_known(const std::optional<Value>& value) {
    add(value.has_value());
    if (value) add(*value);
  }
  template <class Value>
  void add_known(const std::vector<Value>& values) {
    add(values.size());
    add_all(values);
  }
  template <class First, class Second>
  void add_known(const std::pair<First, Second>& pair) {
    add(pair.first);
    add(pair.second);
  }
  template <class Key, class Value>
  void add_known(const std::map<Key, Value>& values) {
    add(values.size());
    add_all(values);
  }
  template <class... Values>
  void add_known(const std::variant<Values...>& value) {
    add(value.index());
    std::visit([&](const auto& held) { add(held); }, value);
  }
};

}  // namespace cellarer::life
