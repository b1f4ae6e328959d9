// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <string>
#include <string_view>

/// A household as the inside knows it: `agency/reference`. Neither part holds a slash, so a key that is made from a
/// path's text can never name a household of another agency. Documents show the reference alone.
namespace cellarer {

inline std::string household_key(const std::string& agency, const std::string& reference) {
  return agency + "/" + reference;
}
inline std::string reference_of(const std::string& key) { return key.substr(key.find('/') + 1); }
/// What has no slash belongs to the agency "agency": so were households kept before there were several.
inline std::string agency_of(const std::string& key) {
  const auto slash = key.find('/');
  return slash == std::string::npos ? "agency" : key.substr(0, slash);
}

/// An agency is named by 1 to 40 small letters, digits and hyphens.
inline bool is_agency_reference(std::string_view text) {
  const bool fits = std::all_of(text.begin(), text.end(),
                                [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; });
  return fits && !text.empty() && text.size() <= 40;
}

}  // namespace cellarer
