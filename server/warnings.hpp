// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <mutex>
#include <string>
#include <vector>

namespace cellarer {

/// What whoever runs the service should see to, while it goes on serving; readiness names it. From any thread.
class Warnings {
 public:
  /// One sentence about a subject; the newest of a subject stands.
  void set(const std::string& subject, const std::string& sentence) {
    const std::lock_guard lock(mutex_);
    sentences_[subject] = sentence;
  }
  void clear(const std::string& subject) {
    const std::lock_guard lock(mutex_);
    sentences_.erase(subject);
  }
  std::vector<std::string> all() const {
    const std::lock_guard lock(mutex_);
    std::vector<std::string> sentences;
    for (const auto& [subject, sentence] : sentences_) sentences.push_back(sentence);
    return sentences;
  }

 private:
  mutable std::mutex mutex_;
  std::map<std::string, std::string> sentences_;
};

}  // namespace cellarer
