// SPDX-License-Identifier: MIT
#pragma once
#include <span>

#include "tests/bench/forecaster.hpp"

/// What happens in a simulated household, as the score sees it.
namespace cellarer::bench {

/// Why a set came out, or why a side stopped.
enum class SetEnd {
  planned,       ///< changed because the forecaster advised it
  early,         ///< changed by the household's own wish, before any advice
  warning,       ///< changed because the unit's own warning sounded
  ran_out,       ///< reached cut-off though every advised change was made and recorded: the cells, the forecast
  not_recorded,  ///< reached cut-off after a change that was never recorded, or recorded twice
  wrong_side,    ///< reached cut-off after a change that was recorded on the other side
  ignored,       ///< reached cut-off after an advised change that was missed, and the warning unheeded
  sudden,        ///< a dead cell, a contact, the unit: no forecast covers it
};
inline constexpr std::size_t set_end_count = 8;

/// One side on one evening, at a changing time, after the forecaster has been asked.
struct Evening {
  std::size_t household;
  Side side;
  Instant at, next;  ///< this changing time and the one after it
  Instant cells_since;
  Instant cutoff;            ///< true moment of cut-off of these cells, if they stay in and all goes as it will
  double charge_left_share;  ///< of what the set gives to cut-off if it stays in
  int sets_ended;            ///< of this side, before these cells
  std::span<Forecaster* const> forecasters;  ///< the deciding one first, then those that are only told
};

/// One set that has come out.
struct SetEnded {
  std::size_t household;
  Side side;
  Instant in, out;
  SetEnd end;
  double charge_left_share;  ///< of the charge that the set would have given to cut-off at the duty it had, 0 where it
                             ///< ran out
};

/// A warning of the unit that sounded between changing times, in the night or day after an evening.
struct Warned {
  std::size_t household;
  Side side;
  Instant at;
};

class Observer {
 public:
  virtual ~Observer() = default;
  virtual void evening(const Evening& evening) = 0;
  virtual void set_ended(const SetEnded& set) = 0;
  virtual void warned(const Warned& warned) = 0;
};

}  // namespace cellarer::bench
