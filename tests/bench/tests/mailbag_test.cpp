// SPDX-License-Identifier: MIT
/// Which changes the simulated household's records mark as perhaps the same: the rule of server/service/cell_changes.
#include "tests/bench/world/mailbag.hpp"
#include "tests/bench/peers/rule_only.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::bench;

namespace {

using namespace std::chrono_literals;
using enum life::ChangeReason;

class Marks final : public RuleOnly {
 public:
  explicit Marks(std::vector<bool>& marks) : marks_(marks) {}
  using RuleOnly::recorded;
  void recorded(const life::CellChange& change) override { marks_.push_back(change.perhaps_the_same); }
  bool advises_change(Side, Instant) override { return false; }

 private:
  std::vector<bool>& marks_;
};

const Instant evening{};

life::CellChange change(Instant at, life::ChangeReason reason = planned) {
  life::CellChange change;
  change.at = change.recorded_at = at;
  change.side = Side::left;
  change.reason = reason;
  return change;
}

life::Reading seen(Instant at, decltype(life::Reading::value) value) {
  return {at, at, Side::left, life::Condition::pacing, value};
}

/// How each change is marked, the records told one after the other.
std::vector<bool> marks_of(const std::vector<Mailbag::Record>& records) {
  std::vector<bool> marks;
  Mailbag bag({}, [&](const life::Household&) { return std::make_unique<Marks>(marks); }, {});
  auto recorded_at = evening;
  for (const auto& record : records) bag.put(recorded_at += 1min, record);
  bag.deliver(recorded_at);
  return marks;
}

}  // namespace

TEST_CASE("a second change within 12 hours is perhaps the same, also with a reading between") {
  CHECK(marks_of({change(evening), change(evening + 11h)}) == std::vector{false, true});
  CHECK(marks_of({change(evening), change(evening + 12h)}) == std::vector{false, false});
  CHECK(marks_of({change(evening), seen(evening + 1h, life::PercentShown{90}), change(evening + 2h)}) ==
        std::vector{false, true});
}

TEST_CASE("a warning or a stop between, or a reason of trouble, makes it another change") {
  CHECK(marks_of({change(evening), seen(evening + 1h, life::WarningSounded{}), change(evening + 2h)}) ==
        std::vector{false, false});
  CHECK(marks_of({change(evening), seen(evening + 1h, life::SideStopped{}), change(evening + 2h)}) ==
        std::vector{false, false});
  for (const auto reason : {warning, ran_out, fault}) {
    CHECK(marks_of({change(evening), change(evening + 2h, reason)}) == std::vector{false, false});
    CHECK(marks_of({change(evening, reason), change(evening + 2h, reason)}) == std::vector{false, true});
  }
}

TEST_CASE("a third change is held against the first, not against its repeat") {
  CHECK(marks_of({change(evening), change(evening + 8h), change(evening + 16h)}) == std::vector{false, true, false});
}
