// SPDX-License-Identifier: MIT
#include "server/store/sqlite_store.hpp"

#include <SQLiteCpp/Transaction.h>

#include "server/household_key.hpp"
#include "server/store/agency_rows.hpp"
#include "server/store/chain.hpp"
#include "server/store/erasing.hpp"
#include "server/store/known_households.hpp"
#include "server/store/migrations.hpp"
#include "server/store/sqlite_access_store.hpp"
#include "server/store/sqlite_reminder_store.hpp"
#include "server/store/sqlite_rows.hpp"

namespace cellarer::store {

namespace {

/// Thrown through the writer, which rolls back.
struct NotAll {
  BatchWritten written;
};

class SqliteStore final : public Store {
 public:
  explicit SqliteStore(const std::filesystem::path& file)
      : engine_(file, [this] { known_.forget_all(); }), access_(engine_), reminders_(engine_) {}

  HouseholdWritten create_household(const NewHousehold& wanted) override {
    return engine_.write([&](SQLite::Database& db) { return rows::create_household(db, wanted); });
  }

  EntryWritten append(const NewEntry& wanted) override {
    return or_forget_all([&] {
      auto written = engine_.write([&](SQLite::Database& db) { return rows::append(db, wanted); });
      if (written.outcome == Outcome::stored) known_.wrote(wanted.household, written.entry.number);
      return written;
    });
  }

  void append_then(const NewEntry& wanted, const Told& told) override {
    engine_.write_then<EntryWritten>(
        [wanted](SQLite::Database& db) { return rows::append(db, wanted); },
        [this, household = wanted.household, told](const EntryWritten* written, const std::exception_ptr& failure) {
          if (written == nullptr)
            known_.forget_all();  // nobody knows what became of it
          else if (written->outcome == Outcome::stored)
            known_.wrote(household, written->entry.number);
          told(written, failure);
        });
  }

  AgencyEntryWritten append(const NewAgencyEntry& wanted) override {
    return engine_.write([&](SQLite::Database& db) { return rows::append(db, wanted); });
  }

  BatchWritten write_together(const Batch& batch) override {
    try {
      return or_forget_all([&] {
        const auto all = engine_.write([&](SQLite::Database& db) {
          const auto written = rows::write_together(db, batch);
          if (!is_kept(written.outcome)) throw NotAll{written};
          return written;
        });
        for (const NewEntry& entry : batch.entries) known_.forget(entry.household);
        return all;
      });
    } catch (const NotAll& refused) {
      return refused.written;
    }
  }

  std::vector<StoredAgencyEntry> agency_entries(const std::string& agency, std::int64_t after) override {
    return engine_.read([&](SQLite::Database& db) { return rows::agency_entries(db, agency, after); });
  }

  std::optional<StoredHousehold> household(const std::string& reference) override {
    if (auto known = known_.find(reference)) return known;
    const auto moment = known_.moment();
    auto row = engine_.read([&](SQLite::Database& db) { return rows::household(db, reference); });
    if (row) known_.keep(*row, moment);
    return row;
  }

  std::vector<StoredHousehold> households(const std::string& after, std::size_t limit) override {
    return engine_.read([&](SQLite::Database& db) { return rows::households(db, after, limit); });
  }

  std::vector<StoredEntry> entries(const std::string& household) override {
    return engine_.read([&](SQLite::Database& db) { return rows::entries(db, household); });
  }

  std::vector<StoredEntry> newest_entries(const std::string& household, std::optional<std::int64_t> before,
                                          std::size_t limit) override {
    return engine_.read([&](SQLite::Database& db) { return rows::newest_entries(db, household, before, limit); });
  }

  std::optional<StoredEntry> entry(const std::string& household, std::int64_t number) override {
    return engine_.read([&](SQLite::Database& db) { return rows::entry(db, household, number); });
  }

  ErasedHousehold erase(const Erasure& erasure) override {
    return or_forget_all([&] {
      const auto erased = engine_.write([&](SQLite::Database& db) { return rows::erase(db, erasure); });
      known_.forget(erasure.household);
      if (erased.outcome == Outcome::stored) engine_.empty_log();
      return erased;
    });
  }

  std::vector<ErasedStock> erased_stock(const std::string& agency) override {
    return engine_.read([&](SQLite::Database& db) { return rows::erased_stock(db, agency); });
  }

  void note(const AuditEvent& event) override {
    engine_.write([&](SQLite::Database& db) {
      chain::append(
          db, {agency_of(event.household), event.at, event.account, event.action, "household", "{}", event.household});
    });
  }

  void keep_learned(const std::string& agency, const std::string& document, Instant at) override {
    engine_.write([&](SQLite::Database& db) {
      chain::append(db, {agency, at, "", learned_action, "households", document});
    });
  }

  std::optional<std::string> newest_learned(const std::string& agency, Instant until) override {
    return engine_.read([&](SQLite::Database& db) { return chain::newest_content(db, agency, learned_action, until); });
  }

  std::vector<AuditLink> audit(const std::string& agency, std::optional<std::int64_t> before,
                               std::size_t limit) override {
    return engine_.read([&](SQLite::Database& db) { return chain::links(db, agency, before, limit); });
  }

  std::vector<std::string> audit_faults(const std::string& agency) override {
    return engine_.read([&](SQLite::Database& db) {
      const SQLite::Transaction one_moment(db);  // the rows and their links of one commit
      return chain::faults(db, agency);
    });
  }

  std::optional<LaterRecord> recorded_after(Instant now) override {
    return engine_.read([&](SQLite::Database& db) { return rows::recorded_after(db, now); });
  }

  bool ready() override {
    try {
      return engine_.read([](SQLite::Database& db) { return schema_of(db) == newest_schema(); });
    } catch (const std::exception&) {
      return false;
    }
  }

  void checkpoint() override { engine_.checkpoint(); }
  AccessStore& access() override { return access_; }
  ReminderStore& reminders() override { return reminders_; }

 private:
  /// Where a write throws, nobody knows what became of it.
  template <class Work>
  std::invoke_result_t<Work> or_forget_all(const Work& work) {
    try {
      return work();
    } catch (...) {
      known_.forget_all();
      throw;
    }
  }

  KnownHouseholds known_;  ///< before the engine, which tells it of others' writes
  SqliteEngine engine_;
  SqliteAccessStore access_;
  SqliteReminderStore reminders_;
};

}  // namespace

std::unique_ptr<Store> open_sqlite_store(const std::filesystem::path& file) {
  return std::make_unique<SqliteStore>(file);
}

}  // namespace cellarer::store
