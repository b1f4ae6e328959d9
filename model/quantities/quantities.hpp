// SPDX-License-Identifier: MIT
#pragma once
#include <compare>

/// Strong types for the doors between rooms. Inside a kernel, plain doubles whose names end in their unit
/// are easier to read; where a value crosses into another room, its unit is its type, so that a current
/// cannot be handed over as a power.
namespace cellarer {

template <class Unit>
struct Quantity {
  double value{};
  constexpr explicit Quantity(double v) : value(v) {}
  constexpr auto operator<=>(const Quantity&) const = default;
};

using Milliamperes = Quantity<struct MilliampereUnit>;          ///< mA, current drawn from the cells
using Volts = Quantity<struct VoltUnit>;                        ///< V, at the cells' terminals
using Ohms = Quantity<struct OhmUnit>;                          ///< ohm
using Milliwatts = Quantity<struct MilliwattUnit>;              ///< mW, taken from the cells
using MilliampereHours = Quantity<struct MilliampereHourUnit>;  ///< mAh
using Hours = Quantity<struct HourUnit>;                        ///< h
using Celsius = Quantity<struct CelsiusUnit>;                   ///< degrees Celsius, never kelvin

}  // namespace cellarer
