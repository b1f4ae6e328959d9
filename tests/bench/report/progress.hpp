// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <mutex>
#include <string>

namespace cellarer::bench {

/// A bar on standard error of how much of the whole trial is done. Any thread may report.
class Progress {
 public:
  /// `total` in whatever unit of work; shown only where `shown`.
  Progress(double total, bool shown) : total_(total), shown_(shown) {}
  ~Progress();
  void now(const std::string& doing);
  void done(double work);

 private:
  std::mutex mutex_;
  double total_, done_ = 0;
  bool shown_;
  int last_permille_ = -1;
  std::string doing_;

  void draw();
};

}  // namespace cellarer::bench
