// SPDX-License-Identifier: MIT
#include "server/commands/read_text.hpp"

#include <filesystem>
#include <fstream>
#include <iostream>
#include <sstream>
#include <stdexcept>

namespace cellarer::commands {

std::string read_text(const std::string& path) {
  std::ostringstream text;
  if (path == "-") {
    text << std::cin.rdbuf();
    return text.str();
  }
  std::ifstream stream(path, std::ios::binary);
  if (!stream || std::filesystem::is_directory(path)) throw std::runtime_error("cannot read " + path);
  text << stream.rdbuf();
  return text.str();
}

}  // namespace cellarer::commands
