// SPDX-License-Identifier: MIT
#include "model/cell/sentence.hpp"

#include <cstdarg>
#include <cstdio>

namespace cellarer::cell {

std::string sentence(const char* form, ...) {
  char text[300];
  std::va_list values;
  va_start(values, form);
  std::vsnprintf(text, sizeof text, form, values);
  va_end(values);
  return text;
}

}  // namespace cellarer::cell
