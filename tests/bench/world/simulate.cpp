// SPDX-License-Identifier: MIT
#include "tests/bench/world/simulate.hpp"

#include <algorithm>
#include <array>
#include <optional>

#include "tests/bench/sides.hpp"
#include "tests/bench/world/mailbag.hpp"
#include "tests/bench/world/people.hpp"

namespace cellarer::bench {

namespace {

using namespace std::chrono_literals;

/// One side and its cells, as they are and as they were written down.
struct SideNow {
  SetCourse course;
  bool warned = false;                              ///< this set's warning has sounded
  bool advice_missed = false;                       ///< an advised change of this set could not be made
  bool written_elsewhere = false;                   ///< a change of the other side was recorded on this one
  Recording written = Recording::as_it_was;         ///< this set
  Recording written_before = Recording::as_it_was;  ///< the set before it
};

/// Something that a set does by itself.
struct Event {
  enum class Kind { warning, failure, cutoff } kind;
  Instant at;
};

class Run {
 public:
  Run(const World& world, std::uint64_t seed, std::size_t household, const MakeForecaster& decider,
      std::span<const MakeForecaster> told, Observer& observer)
      : truth_(world, seed, household),
        people_(truth_),
        bag_(world.first_day(household), decider, told),
        observer_(observer) {
    for (auto* forecaster : bag_.all()) watchers_.push_back(dynamic_cast<TruthWatcher*>(forecaster));
  }

  void all_nights() {
    put_duty();
    const auto& evenings = truth_.evenings();
    for (const auto side : both_sides) {
      now(side).course.side = side;
      put_in(side, 0, evenings.front(), life::ChangeReason::planned);
    }
    const auto nights =
        static_cast<std::size_t>(truth_.world().spec().nights) * truth_.world().spec().changing_times.size();
    for (std::size_t i = 1; i <= nights; ++i) {
      until(evenings[i]);
      evening(i);
    }
  }

 private:
  const HouseholdTruth truth_;
  const People people_;
  Mailbag bag_;
  Observer& observer_;
  std::vector<TruthWatcher*> watchers_;  ///< in the order of the forecasters; null where one may not look
  std::array<SideNow, 2> sides_;

  SideNow& now(Side side) { return sides_[index_of(side)]; }

  void put_duty() {
    const auto& duty = truth_.duty();
    for (const auto& settings : duty.settings) {
      for (std::size_t i = 1; i < settings.size(); ++i) bag_.put(settings[i].from, settings[i]);
    }
    for (const auto& spell : duty.told_longer) bag_.put(spell.from, spell);
    for (std::size_t i = 1; i < duty.units.size(); ++i) bag_.put(duty.units[i].from, duty.units[i]);
  }

  void put_in(Side side, int number, Instant at, life::ChangeReason reason) {
    auto& here = now(side);
    here.course = truth_.course(side, number, at);
    here.warned = here.advice_missed = here.written_elsewhere = false;
    here.written_before = here.written;
    here.written = people_.note_change(bag_, here.course, reason);
    if (here.written == Recording::wrong_side) now(other(side)).written_elsewhere = true;
    for (auto* watcher : watchers_) {
      if (watcher != nullptr) watcher->set_in(side, here.course);
    }
  }

  void change(Side side, Instant at, SetEnd end, life::ChangeReason reason) {
    const auto& out = now(side).course;
    const double left = 1 - out.charge_at(at, truth_.evenings()) / out.charge_to_cutoff_mAh;
    observer_.set_ended({truth_.household(), side, out.in, at, end, std::max(left, 0.0)});
    put_in(side, out.number + 1, at, reason);
  }

  static Event next_event(const SideNow& side) {
    const auto& course = side.course;
    const Instant end = course.failure ? *course.failure : course.cutoff;
    if (course.warning && !side.warned && *course.warning < end) return Event{Event::Kind::warning, *course.warning};
    return Event{course.failure ? Event::Kind::failure : Event::Kind::cutoff, end};
  }

  /// What the sets do of themselves until an evening, in order of time over both sides.
  void until(Instant evening) {
    for (;;) {
      std::optional<Event> first;
      Side where = Side::left;
      for (const auto side : both_sides) {
        const auto event = next_event(now(side));
        if (event.at <= evening && (!first || event.at < first->at)) first = event, where = side;
      }
      if (!first) return;
      take(where, *first, evening);
    }
  }

  /// The cells are changed at once, minutes later, and not after the evening that is next.
  void take(Side side, const Event& event, Instant evening) {
    switch (event.kind) {
      case Event::Kind::warning:
        now(side).warned = true;
        observer_.warned({truth_.household(), side, event.at});
        if (people_.hear_warning(side, now(side).course.number)) {
          put_seen(side, event.at, life::WarningSounded{});
          const Instant at = std::min({event.at + 5min, now(side).course.cutoff, evening});
          change(side, at, SetEnd::warning, life::ChangeReason::warning);
        }
        return;
      case Event::Kind::failure:
        put_seen(side, event.at, life::SideStopped{});
        change(side, std::min(event.at + 1min, evening), SetEnd::sudden, life::ChangeReason::fault);
        return;
      case Event::Kind::cutoff:
        put_seen(side, event.at, life::SideStopped{});
        change(side, std::min(event.at + 1min, evening), why_it_ran_out(now(side)), life::ChangeReason::ran_out);
    }
  }

  template <class Value>
  void put_seen(Side side, Instant at, Value value) {
    bag_.put(at, life::Reading{at, at, side, life::Condition::pacing, value});
  }

  /// The nearest cause first. A fault of the record counts for its set and the next one: a change that nobody wrote
  /// down, or twice, makes the set before it seem longer or shorter than it was.
  static SetEnd why_it_ran_out(const SideNow& side) {
    if (side.advice_missed) return SetEnd::ignored;
    if (side.written_elsewhere) return SetEnd::wrong_side;
    const auto wrong = [](Recording how) { return how == Recording::never || how == Recording::twice; };
    if (wrong(side.written) || wrong(side.written_before)) return SetEnd::not_recorded;
    if (side.written == Recording::wrong_side || side.written_before == Recording::wrong_side)
      return SetEnd::wrong_side;
    return SetEnd::ran_out;
  }

  void evening(std::size_t index) {
    const Instant at = truth_.evenings()[index];
    for (const auto side : both_sides) {
      const auto& course = now(side).course;
      if (course.in < people_.reads_at(index) && people_.read(index, course.number))
        people_.note_reading(bag_, course, index);
    }
    bag_.deliver(at);
    const bool missed = people_.cannot_change(index);
    std::array<bool, 2> advised{};
    for (const auto side : both_sides) {
      const auto& course = now(side).course;
      advised[index_of(side)] = bag_.decider().advises_change(side, at);
      const double left = std::max(1 - course.charge_at(at, truth_.evenings()) / course.charge_to_cutoff_mAh, 0.0);
      observer_.evening({truth_.household(), side, at, truth_.evenings()[index + 1], course.in, course.cutoff, left,
                         course.number, bag_.all()});
    }
    for (const auto side : both_sides) {
      const bool advice = advised[index_of(side)];
      if (advice && missed) now(side).advice_missed = true;
      if (missed) continue;
      if (advice) {
        change(side, at, SetEnd::planned, life::ChangeReason::planned);
      } else if (now(side).course.in < at && people_.change_early(side, index)) {  // not minutes after a warning
        change(side, at, SetEnd::early, life::ChangeReason::planned);
      }
    }
  }
};

}  // namespace

void simulate(const World& world, std::uint64_t seed, std::size_t household, const MakeForecaster& decider,
              std::span<const MakeForecaster> told, Observer& observer) {
  Run(world, seed, household, decider, told, observer).all_nights();
}

}  // namespace cellarer::bench
