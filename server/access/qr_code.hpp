// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

namespace cellarer::access {

/// A text as a QR code (ISO/IEC 18004, error correction level M): one string a row, '1' a dark module, without the
/// quiet zone of four modules that belongs around it. By the qrcodegen library. Throws std::length_error where the text
/// is too long (2 300 bytes and more).
std::vector<std::string> qr_rows(const std::string& text);

/// The same for a terminal: two rows of modules a line, with the quiet zone, dark on light.
std::string qr_for_terminal(const std::vector<std::string>& rows);

}  // namespace cellarer::access
