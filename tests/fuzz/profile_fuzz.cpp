// SPDX-License-Identifier: MIT
// Cell files and stimulator files, as they come in a household's export. The first letter chooses.
#include <cmath>

#include "server/profiles/cell_file.hpp"
#include "server/profiles/stimulator_file.hpp"
#include "tests/fuzz/fuzz.hpp"

using namespace cellarer;

namespace {

void a_cell(std::string_view text) {
  const auto cell = read_cell_file(text);
  for (const auto& discharge : cell.discharges) {
    fuzz::must(discharge.hours.has_value() != discharge.capacity_mAh.has_value());
    if (discharge.hours) fuzz::must(std::isfinite(*discharge.hours) && *discharge.hours > 0);
  }
}

void a_stimulator(std::string_view text) {
  const auto document = json::parse(text);
  const json::Field profile(document, "");
  const auto unit = read_stimulator(profile);
  fuzz::must(unit.cells_in_series >= 1 && std::isfinite(unit.cutoff_V));
  read_handling(profile);
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string_view text = fuzz::as_text(data, size);
  try {
    if (fuzz::choose(text, 2) == 0)
      a_cell(text);
    else
      a_stimulator(text);
  } catch (const json::Refused& refused) {
    fuzz::must(!refused.reason().empty());
  }
  return 0;
}
