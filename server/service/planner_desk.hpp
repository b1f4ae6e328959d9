// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <list>
#include <memory>
#include <mutex>
#include <set>
#include <string>
#include <thread>
#include <vector>

#include "model/rounds/adjust.hpp"
#include "model/rounds/remedies.hpp"
#include "server/service/agency_board.hpp"

/// The planner's desk: the list (agency_board.hpp), the plan of rounds as a draft, and what planners decide. A draft is
/// kept in memory alone, and its tag says from which start of the service it is, so that after another start it is
/// refused by that name; what is confirmed becomes entries, of each household for its stop and of the agency for the
/// round, all or none.
///
/// - planner_desk.cpp: boards and their work beside the service, one household's matters
/// - plan_drafts.cpp: the draft, made beside the service too, so that the list knows whom it cannot serve; decisions,
///   and what a change by hand would mean
/// - plan_lines.hpp, plan_confirm.cpp: from draft to entries
/// - round_states.cpp: loaded, left, done, cancelled; received or not
/// - settle_delivery.cpp: where is what did not come
namespace cellarer::service {

/// Who does something, and by which key it is sent.
struct Doing {
  std::string agency, account, who, key;
};

struct PlanDraft {
  std::string tag;
  Instant as_of;
  BoardFrame frame;
  PlanMaterial material;
  rounds::Plan plan;
  double seconds = 0;  ///< that it took
  std::vector<DeskHousehold> households;
  std::string made_from;  ///< the input's fingerprint, and how far the agency's entries went
};
using Draft = std::shared_ptr<const PlanDraft>;

/// Rounds that the draft would have otherwise than they were confirmed.
std::set<std::string> changed_rounds(const PlanDraft& draft);

struct ConfirmedRound {
  std::string round;
  int stops = 0;
  std::int64_t number = 0;
};

struct Confirmation {
  std::vector<ConfirmedRound> rounds;
  std::vector<rounds::ConfirmedStop> withdrawn;  ///< stops that were confirmed before and are not made
};

/// A stop that ended with its household's closing, and the day on which it would have been made.
struct EndedStop {
  std::string stop, round;
  Date date;
};

struct ComesBack {
  std::string what;
  int pieces = 0;
};

/// Since when a unit is elsewhere by the agency's own records: in another home, or with the workshop. By serial.
using UnitsElsewhere = std::map<std::string, Instant>;

/// What a home that is closed gives back: its unit and its spares, and what is in stock there. A unit that another took
/// the place of went back then, and one that is elsewhere by now need not be looked for there.
std::vector<ComesBack> comes_back(const HouseholdRecord& record, const UnitsElsewhere& elsewhere, Instant now);

/// Rows of so many homes are made before anybody asks, and kept while nobody does: some 10 KB each, with what goes with
/// them. Those of further agencies are made when somebody opens their list, and stay while it is in use.
inline constexpr std::size_t most_homes_with_rows = 5000;
/// A list that nobody has opened for so long is not in use.
inline constexpr std::chrono::minutes list_unused_after{30};

/// Thread-safe; everything belongs on a worker. What cannot be done is thrown as `Problem`.
class PlannerDesk {
 public:
  PlannerDesk(store::Store& store, HouseholdService& households, std::size_t most_homes = most_homes_with_rows);
  ~PlannerDesk();
  PlannerDesk(const PlannerDesk&) = delete;
  PlannerDesk& operator=(const PlannerDesk&) = delete;

  /// Begins to make rows beside the service, for every agency that has households.
  void begin();

  /// Never null. Its list stays as long as somebody holds it.
  std::shared_ptr<AgencyBoard> board(const std::string& agency);

  /// Lets go of lists that nobody has asked for since then, the one asked for longest ago first, while there are rows
  /// of too many homes. They are made again when somebody opens them; drafts of their plans are not.
  void let_go(std::chrono::steady_clock::time_point unused_since);
  std::size_t homes_with_rows();
  /// From its entries as they are.
  DeskRecord desk_of(const std::string& household_key);

  /// The draft as things stand; the same one until something changes. Throws `no-forecast-yet` with `computed`, `of`.
  Draft plan(const std::string& agency);
  /// A draft that was given out. Throws `outdated`, with `more.restarted` where it is of another start of the service.
  Draft draft(const std::string& agency, const std::string& tag);
  rounds::Consequence consequence(const std::string& agency, const std::string& tag, const rounds::Change& change);
  /// Keeps a change as decisions of the households behind that door.
  void decide(const Doing& doing, const std::string& tag, const rounds::Change& change);
  /// Takes what was decided of that stop and round back.
  void forget_decision(const Doing& doing, const std::string& stop, const std::string& round);

  /// These rounds of the draft become entries; a stop that moves from another round to one of them leaves that one.
  /// Throws `outdated` where one of them is not as the draft knew it or a lot was recalled since, `out-of-range`.
  Confirmation confirm(const Doing& doing, const std::string& tag, const std::vector<std::string>& rounds);

  /// `follows`: number of the newest entry about the round that the planner saw. Throws `outdated`, `unknown-round`,
  /// `out-of-range`, `lot-recalled` (loaded or left with a lot that is recalled by now).
  void set_round_state(const Doing& doing, const std::string& round, RoundState state, std::int64_t follows);
  /// What came: as planned, or `lines` (item, lot, pieces). Becomes stock. Throws `out-of-range`.
  void delivery_received(const Doing& doing, const std::string& household_key, const std::string& round,
                         const std::optional<std::vector<stock::Line>>& lines);
  /// Entries by which stock rose with that round.
  std::vector<std::int64_t> booked_of(const std::string& household_key, const std::string& round);
  /// Those that stand on an answer "received": they go with it when it is taken back. None for other entries.
  std::vector<std::int64_t> booked_with(const std::string& household_key, std::int64_t entry);
  void delivery_not_received(const Doing& doing, const std::string& household_key, const std::string& round);
  /// Where the packs are that did not come: back in the store, whole ones, or lost; `not_known` takes that back. Throws
  /// `out-of-range`.
  void settle(const Doing& doing, const std::string& household_key, const std::string& round, Whereabouts whereabouts);
  /// Before an answer is taken back: what was said of where its packs are goes first. Nothing for other entries.
  void unsettle(const Doing& doing, const std::string& household_key, std::int64_t entry);
  /// Before the household is erased: what did not come to it would be in no books any longer.
  void write_off(const Doing& doing, const std::string& household_key);

  /// As of its newest entry. Throws `unknown-household`.
  std::vector<ComesBack> comes_back_of(const std::string& household_key);
  /// Ends the household's stops and reminders; the stops that were taken off rounds. Again: nothing more happens.
  std::vector<EndedStop> close(const Doing& doing, const std::string& household_key);

  /// Households with a stop on that round, by stop.
  std::vector<DeskHousehold> on_round(const std::string& agency, const std::string& round);

 private:
  struct Agency {
    Agency(const std::string& name, store::Store& store, HouseholdService& households)
        : board(name, store, households) {}
    AgencyBoard board;
    std::mutex deciding;      ///< one decision at a time
    std::mutex planning;      ///< one draft at a time
    std::list<Draft> drafts;  ///< that were given out, newest first
    Draft newest;             ///< perhaps made beside the service, and not given out
    std::string foreseen;     ///< version of the list as of which that was last done
    std::chrono::steady_clock::time_point foresee_again{}, asked{};
    std::list<std::pair<std::string, Confirmation>> confirmations;  ///< by key, newest first: one sent twice
  };

  using Shared = std::shared_ptr<Agency>;

  Shared of(const std::string& agency);
  Shared there(const std::string& agency);
  std::vector<Shared> all_there();
  void begin_most_homes();
  void run();
  bool foresee(Agency& agency);
  Draft made(Agency& agency);
  store::NewEntry entry_of(const Doing& doing, const std::string& household_key, const char* kind,
                           const nlohmann::json& body, std::size_t nth) const;
  store::NewAgencyEntry round_entry_of(const Doing& doing, const rounds::Round& round, RoundState state,
                                       const std::vector<DeskHousehold>& stops, std::int64_t follows, std::size_t nth,
                                       const nlohmann::json& more = nlohmann::json::object()) const;
  void book_settled(const Doing& doing, const std::vector<MissingLot>& lots, Whereabouts whereabouts, bool undone,
                    store::Batch& batch) const;
  void add_settlement(const Doing& doing, const std::string& key, const DeskDelivery& delivery, Whereabouts whereabouts,
                      std::vector<MissingLot> lots, store::Batch& batch) const;
  std::vector<EndedStop> take_off_rounds(const Doing& doing, const DeskHousehold& household, const std::string& key,
                                         store::Batch& batch);

  store::Store& store_;
  HouseholdService& households_;
  const std::size_t most_homes_;
  const std::string drafts_of_;  ///< begins the tags of drafts of this start of the service
  std::atomic<std::uint64_t> drafts_made_{0};
  std::mutex mutex_;
  std::map<std::string, Shared> agencies_;
  std::condition_variable wake_;
  bool ending_ = false;
  std::thread beside_;
};

/// A household has no delivery on that round.
Problem nothing_planned_on(const std::string& round);

/// Packs by lot, all these households' stops on the round together.
std::vector<LoadedLot> totals_of(const std::vector<DeskHousehold>& stops, const std::string& round);

}  // namespace cellarer::service
