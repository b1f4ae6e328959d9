// SPDX-License-Identifier: MIT
#pragma once
#include <filesystem>
#include <memory>

#include "server/service/libraries.hpp"

namespace cellarer::commands {

/// The profiles of a folder with `cells/` and `stimulators/`. Stimulators are read at once; a cell is fitted
/// when it is first asked for. Throws `json::Refused` where a stimulator's file breaks the form.
std::unique_ptr<service::Libraries> open_libraries(const std::filesystem::path& folder);

/// Where profiles are looked for when `--profiles` is not given: the source tree's data/, or data/ beside the
/// program's folder. Empty where there is none.
std::filesystem::path usual_profiles();

}  // namespace cellarer::commands
