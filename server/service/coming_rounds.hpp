// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <string>
#include <vector>

#include "server/service/agency_record.hpp"
#include "server/service/desk_record.hpp"

/// The rounds to come, by the calendar and by what was confirmed, and where a household's deliveries stand.
namespace cellarer::service {

struct ComingRounds {
  rounds::Date today;
  std::vector<rounds::Round> all;  ///< by date; those that were confirmed stay when the calendar drops their rule

  const rounds::Round* named(const std::string& round) const;
};

ComingRounds coming_rounds(const AgencyRecord& agency, rounds::Date today);

/// On it a stop can be planned or taken back: it is in store still.
bool is_plannable(const AgencyRecord& agency, const std::string& round);

/// Where a delivery stands. `no_answer`: under way for longer than 24 h, or its day is over for so long, and nobody has
/// said that it came.
enum class DeliveryState { planned, loaded, left, no_answer, received, not_received, withdrawn };
const char* name_of(DeliveryState state);

inline constexpr std::chrono::hours answer_within{24};

DeliveryState state_of(const DeskDelivery& delivery, const AgencyRecord& agency, Instant now);
/// When it came to that state, as far as it is known.
Instant since(const DeskDelivery& delivery, const AgencyRecord& agency, DeliveryState state);
/// On the way, and not for so long that it must be doubted: what comes with it need not be planned again.
inline bool is_under_way(DeliveryState state) { return state == DeliveryState::loaded || state == DeliveryState::left; }
/// Something of it is still to be done.
inline bool is_open(DeliveryState state) {
  return state != DeliveryState::received && state != DeliveryState::withdrawn;
}

/// Pieces of one item that are under way to the household, and the date for which they are planned.
struct UnderWay {
  rounds::Date date;
  int pieces = 0;
};
/// By date.
std::vector<UnderWay> under_way(const DeskRecord& desk, const AgencyRecord& agency, const std::string& item,
                                Instant now);

}  // namespace cellarer::service
