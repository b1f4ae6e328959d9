// SPDX-License-Identifier: MIT
#pragma once
#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>

namespace cellarer::testing {

/// A folder of this test's own; gone when the test is.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    auto form = (std::filesystem::temp_directory_path() / "cellarer-test-XXXXXX").string();
    if (mkdtemp(form.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path_ = form;
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

}  // namespace cellarer::testing
