// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <chrono>
#include <map>
#include <memory>
#include <mutex>
#include <set>
#include <string>
#include <vector>

#include "server/service/household_service.hpp"
#include "server/service/plan_input.hpp"

/// The planner's list of one agency, kept in memory: a row a household (board_row.hpp), made from its forecast beside
/// the service and anew when its entries change, the agency's do, or the day does. Nothing of it is stored: it follows
/// from the entries.
namespace cellarer::service {

struct Progress {
  /// Households whose forecast is made from what is known now, or cannot be made; and all.
  std::size_t computed = 0, of = 0;
  bool whole() const { return computed == of; }
};

/// A part of the list as finished bytes.
struct BoardPage {
  std::shared_ptr<const std::string> json;
  std::string etag;
};

/// Thread-safe. `catch_up`, `work` and what reads the store belong on a worker.
class AgencyBoard {
 public:
  AgencyBoard(std::string agency, store::Store& store, HouseholdService& households);

  /// Something of the household was written, or it was erased. Short.
  void touch(const std::string& household_key);

  using Steady = std::chrono::steady_clock;

  /// One step of what waits: a household read, a forecast made, rows written anew. False: nothing waits. What was
  /// touched less than `settling` ago is left alone: a home that writes again and again is read once for all of it.
  bool work(Steady::duration settling = {});

  /// Reads what has changed and makes a few forecasts, so that whoever has just written something finds it; with
  /// `all`, reads every household that waits. Forecasts that remain are made by `work`.
  void catch_up(bool all = false);

  /// Rows from `from` on, at most `limit` (0: all), in the order of urgency.
  BoardPage page(std::size_t from, std::size_t limit);
  /// The row alone; none: unknown, or closed to this agency.
  std::optional<std::string> row(const std::string& household_key);

  /// The household's outlook, where it is made from what is known now. Null: it is not there yet, or cannot be made.
  struct Listed {
    std::shared_ptr<const Outlook> outlook;
    bool failed = false;  ///< it cannot be made
  };
  Listed outlook(const std::string& household_key);

  Progress progress() const;
  std::string version() const;  ///< another when any row is
  /// Of the agency's desks: the calendar's, or that of the first household; never null.
  Zone zone() const;
  BoardFrame frame();
  std::vector<DeskHousehold> households() const;
  std::optional<DeskHousehold> household(const std::string& household_key) const;
  /// When other homes last recorded each unit, by its serial.
  std::map<std::string, Instant> units_elsewhere(const std::string& household_key, Instant now) const;

  /// What the newest plan cannot bring in time, by reference of the household.
  void set_left(const std::vector<rounds::Left>& left);

 private:
  struct Row {
    DeskHousehold is;
    std::vector<rounds::Left> left;
    BoardRow written;
    std::int64_t use_entry = -1, made_from = -1;  ///< what the outlook was made from
    std::map<std::string, int> storage;
    bool read = false, to_write = true;
  };
  using Rows = std::map<std::string, Row>;

  DeskHousehold corrected(const Row& row) const;
  bool read_one(Steady::duration settling = {});
  bool forecast_one();
  void fail(const std::string& household_key);
  bool write_rows();
  void take_touched();
  void read(const std::string& household_key);
  void renew_frame();
  std::int64_t made_from() const;
  bool is_current(const Row& row) const;
  bool is_stale(const Row& row) const;
  std::string next_stale() const;
  void assemble();
  Progress counted() const;
  std::string version_text() const;
  Zone zone_of_desks() const;
  Date today_at(Instant now) const;

  const std::string agency_;
  store::Store& store_;
  HouseholdService& households_;
  const std::string born_;  ///< tells versions of two starts apart
  /// Of its own, so that who writes never waits for rows being made.
  std::mutex touching_;
  std::map<std::string, Steady::time_point> touched_;  ///< not yet among those changed
  mutable std::mutex mutex_;
  Rows rows_;                                          ///< by key
  std::map<std::string, Steady::time_point> changed_;  ///< not read yet, and since when
  std::set<std::string> failed_, computing_;
  BoardFrame frame_;
  std::size_t entries_seen_ = 0;
  Lots lots_;                        ///< with which `frame_` was read; rows are as they were written
  std::int64_t forecasts_anew_ = 0;  ///< grows when the agency said something that any forecast may depend on
  Zone home_zone_ = nullptr;
  std::uint64_t version_ = 1, assembled_ = 0;
  std::atomic<std::uint64_t> steps_{0};
  std::vector<const std::string*> order_;
  std::map<std::pair<std::size_t, std::size_t>, BoardPage> pages_;
  Instant written_at_{};
};

}  // namespace cellarer::service
