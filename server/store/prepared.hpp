// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

namespace cellarer::store {

/// Statements that are prepared once for one connection, because preparing costs more than most of them do. Lives
/// shorter than the connection.
class PreparedStatements {
 public:
  explicit PreparedStatements(SQLite::Database& database) : database_(database) {}
  PreparedStatements(const PreparedStatements&) = delete;
  PreparedStatements& operator=(const PreparedStatements&) = delete;

  /// As long as it lives, this thread, and no other, takes its statements for the connection from those that are kept.
  class Use {
   public:
    explicit Use(PreparedStatements& kept) : before_(std::exchange(current_, &kept)) {}
    ~Use() { current_ = before_; }
    Use(const Use&) = delete;
    Use& operator=(const Use&) = delete;

   private:
    PreparedStatements* before_;  ///< of another connection, which the thread goes back to
  };

 private:
  friend class Prepared;
  struct Kept {
    SQLite::Statement statement;
    bool in_use = false;
  };
  /// Looked for by the text as it stands, so that no string is made of it each time.
  struct Hash {
    using is_transparent = void;
    std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>{}(text); }
  };
  Kept& of(std::string_view text) {
    const auto found = kept_.find(text);
    if (found != kept_.end()) return found->second;
    const std::string owned(text);
    return kept_.emplace(owned, Kept{SQLite::Statement(database_, owned)}).first->second;
  }

  static inline thread_local PreparedStatements* current_ = nullptr;
  SQLite::Database& database_;
  std::unordered_map<std::string, Kept, Hash, std::equal_to<>> kept_;
};

/// A statement to be bound and stepped: a kept one where this thread uses those of this connection, otherwise one of
/// its own. Used as a SQLite::Statement is.
class Prepared {
 public:
  Prepared(SQLite::Database& database, std::string_view text) {
    PreparedStatements* kept = PreparedStatements::current_;
    if (kept != nullptr && &kept->database_ == &database) {
      auto& one = kept->of(text);
      if (!one.in_use) {
        one.statement.clearBindings();
        one.in_use = true;
        kept_ = &one;
        return;
      }
    }
    own_.emplace(database, std::string(text));
  }
  ~Prepared() {
    if (kept_ == nullptr) return;
    kept_->statement.tryReset();
    kept_->in_use = false;
  }
  Prepared(const Prepared&) = delete;
  Prepared& operator=(const Prepared&) = delete;

  SQLite::Statement& operator*() { return kept_ != nullptr ? kept_->statement : *own_; }

 private:
  PreparedStatements::Kept* kept_ = nullptr;
  std::optional<SQLite::Statement> own_;
};

}  // namespace cellarer::store
