// SPDX-License-Identifier: MIT
#include "server/access/qr_code.hpp"

#include <qrcodegen/qrcodegen.hpp>

namespace cellarer::access {

std::vector<std::string> qr_rows(const std::string& text) {
  const auto code = qrcodegen::QrCode::encodeText(text.c_str(), qrcodegen::QrCode::Ecc::MEDIUM);
  std::vector<std::string> rows;
  for (int y = 0; y < code.getSize(); ++y) {
    std::string row;
    for (int x = 0; x < code.getSize(); ++x) row += code.getModule(x, y) ? '1' : '0';
    rows.push_back(std::move(row));
  }
  return rows;
}

/// Terminals are dark as often as light: colours are set, not assumed.
std::string qr_for_terminal(const std::vector<std::string>& rows) {
  constexpr int quiet = 4;
  const int size = static_cast<int>(rows.size());
  const auto dark = [&](int x, int y) {
    const bool inside = x >= 0 && y >= 0 && x < size && y < size;
    return inside && rows[static_cast<std::size_t>(y)][static_cast<std::size_t>(x)] == '1';
  };
  std::string text;
  for (int y = -quiet; y < size + quiet; y += 2) {
    text += "\033[30;107m";
    for (int x = -quiet; x < size + quiet; ++x) {
      const bool upper = dark(x, y), lower = dark(x, y + 1);
      text += upper ? (lower ? "\u2588" : "\u2580") : (lower ? "\u2584" : " ");
    }
    text += "\033[0m\n";
  }
  return text;
}

}  // namespace cellarer::access
