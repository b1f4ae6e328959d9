// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace cellarer::http {

/// The address of a request, taken apart (RFC 3986, origin form).
struct Target {
  std::vector<std::string> path;             ///< decoded segments; "/a//b/" is {"a", "", "b", ""}
  std::map<std::string, std::string> query;  ///< decoded; + is a space
};

/// None where it is not in origin form, or a percent sign is not followed by two hexadecimal digits, or
/// something decodes to a control character or to what is not UTF-8.
std::optional<Target> parse_target(std::string_view text);

}  // namespace cellarer::http
