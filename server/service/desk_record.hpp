// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "model/stock/dates.hpp"
#include "server/json/field.hpp"
#include "server/service/lot_facts.hpp"
#include "server/store/store.hpp"

/// What the planner's desk knows of one household beside its forecast, folded from the household's entries
/// (desk_kinds.hpp). Entries that were taken back do not count.
namespace cellarer::service {

using stock::Date;

struct DeskMessage {
  std::int64_t entry = 0;
  std::string about;  ///< "running_short", "unit_trouble"
  std::string note;   ///< may be empty
  Instant at;
  std::optional<Instant> seen_at;  ///< when somebody of the agency said that it was seen
};

struct DeliveredLot {
  std::string lot;  ///< empty: not known
  int packs = 0;
  std::optional<std::chrono::year_month> expires;
  bool operator==(const DeliveredLot&) const = default;
};

struct DeliveryLine {
  std::string item;
  int packs = 0;
  int pieces_per_pack = 1;
  std::vector<DeliveredLot> lots;  ///< their packs add up to `packs`
  bool operator==(const DeliveryLine&) const = default;
};

enum class Answer { open, received, not_received, withdrawn };

/// What the home's stock took of a delivery, as it was recorded.
struct CameLine {
  std::string item, lot;  ///< lot empty: not known
  int pieces = 0;
};

/// Of one lot, what a delivery was to bring and did not.
struct MissingLot {
  std::string item, lot;  ///< lot empty: not known
  int pieces = 0;
  int pieces_per_pack = 1;
  std::optional<std::chrono::year_month> expires;
  bool operator==(const MissingLot&) const = default;
};

/// What the agency said became of what did not come.
enum class Whereabouts { not_known, came_back, lost };
const char* name_of(Whereabouts whereabouts);
Whereabouts read_whereabouts(const json::Field& field);

/// What a household gets on one round. A later entry of the same round stands for the one before.
struct DeskDelivery {
  std::string round;
  Date date;
  std::string stop;
  std::vector<DeliveryLine> lines;  ///< by item
  Instant planned_at;
  Answer answer = Answer::open;
  std::optional<Instant> answered_at;
  std::vector<CameLine> came = {};                   ///< with an answer "received"
  Whereabouts whereabouts = Whereabouts::not_known;  ///< of `settled`
  std::vector<MissingLot> settled = {};              ///< what did not come, as far as it was said where it is
};

/// What did not come of it by the home's answer, and nobody has said where it is: all of it, or what is less than was
/// planned. Pieces that came without a number of a lot are taken for those that were planned.
std::vector<MissingLot> missing_of(const DeskDelivery& delivery);

/// A planner's decision about a stop of this household's door (rounds::Pin).
struct StopDecision {
  std::string round;
  bool stop = true;
};

/// A unit was recorded in the home, in use or as a spare.
struct UnitSeen {
  std::string serial;
  Instant from;
};

struct DeskRecord {
  std::optional<std::string> area, stop;  ///< none: no area; the household is a stop of its own
  std::map<std::string, int> storage;     ///< by item: the most pieces that the home keeps
  std::optional<Instant> closed_at, asked_at;
  std::optional<Instant> last_count_at;   ///< when stock was last counted
  std::optional<Instant> last_record_at;  ///< newest of what says something of cells and stock, by when it happened
  std::vector<DeskMessage> messages;      ///< oldest first
  std::vector<DeskDelivery> deliveries;   ///< by when they were first planned
  std::vector<StopDecision> decisions;    ///< one a round
  std::vector<UnitSeen> units;            ///< in the order of recording
  std::int64_t last_entry = 0;            ///< number of the newest
  std::int64_t last_use_entry = 0;        ///< number of the newest that says something of cells and stock

  const DeskDelivery* delivery_on(const std::string& round) const;
};

DeskRecord desk_record(const store::StoredHousehold& household, const std::vector<store::StoredEntry>& entries);
/// The same where the household's document is read already.
DeskRecord desk_record(std::optional<std::string> area, std::optional<std::string> stop,
                       const std::vector<store::StoredEntry>& entries);

/// Numbers of lots that were corrected, in what is planned and under way.
void correct_lots(std::vector<DeskDelivery>& deliveries, const LotFacts& lots);

/// "2026-12-02"; refused where it is no date of the calendar.
Date read_date(const json::Field& date);
/// A line of a delivery as it is kept: {"item", "packs", "pieces_per_pack", "lots": [{"lot", "packs", "expires"}]}.
nlohmann::json delivery_line_document(const DeliveryLine& line);
DeliveryLine read_delivery_line(const json::Field& line);
/// The same for what did not come: {"item", "lot", "pieces", "pieces_per_pack", "expires"}.
nlohmann::json missing_lot_document(const MissingLot& lot);
MissingLot read_missing_lot(const json::Field& lot);

}  // namespace cellarer::service
