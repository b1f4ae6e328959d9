// SPDX-License-Identifier: MIT
// Profiles that technicians approve: what forecasts are made with, what they never do to cells that are in, and how an
// old forecast is made again.
#include "server/service/agency_profiles.hpp"

#include "model/life/forecast.hpp"
#include "server/profiles/stimulator_file.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/household_forecast.hpp"
#include "server/service/profile_effects.hpp"
#include "server/service/read_proposal.hpp"
#include "server/service/review_book.hpp"
#include "tests/support/bench_world.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::testing;

namespace {

/// A home whose cells went in at hour 0, asked about at hour 48.
struct ProfileDesk : BenchWorld {
  ProfileDesk() {
    settle("north/h-1", "u-1");
    sets("north/h-1", "left", 0, {});
    sets("north/h-1", "right", 0, {});
    clock.set(after_h(48));
  }

  std::int64_t propose(const std::string& subject, const nlohmann::json& document) {
    return households.journal()
        .record({"north", service::agency_kind::profile_proposal, subject,
                 nlohmann::json{{"document", document}}.dump(), "p" + std::to_string(++keys), "first"})
        .entry.number;
  }
  void approve(std::int64_t number) {
    households.journal().record({"north", service::agency_kind::profile_decision, std::to_string(number),
                                 R"({"approve":true})", "d" + std::to_string(++keys), "second", 0});
  }
  void approve_cell(double holds) { approve(propose("cell/lr6-family", {{"id", "lr6-family"}, {"holds", holds}})); }

  Instant change_by(double hours, Side side = Side::left) {
    const auto answer = service::household_forecast(households.snapshot("north/h-1")->record, after_h(hours));
    return answer.life.side(side).change_by.value();
  }
};

}  // namespace

TEST_CASE("an approved profile moves cells that are in to the safer side alone, and all that come after") {
  ProfileDesk desk;
  const auto before = desk.change_by(48);
  desk.approve_cell(1.3);
  CHECK(desk.change_by(48) == before);  // it would be later: not for these
  CHECK(desk.change_by(60) == before);
  desk.clock.set(after_h(50));
  desk.approve_cell(0.7);
  CHECK(desk.change_by(60) < before);  // sooner: at once
  desk.clock.set(after_h(52));
  desk.approve_cell(1.3);
  CHECK(desk.change_by(60) < before);  // and not back
  desk.add("north/h-1", kind::cell_change, 72,
           {{"side", "left"}, {"reason", "planned"}, {"cells", {{"profile", "lr6-family"}}}, {"from_stock", false}});
  CHECK(hours_between(after_h(72), desk.change_by(80)) > 1.1 * hours_between(after_h(0), before));
  CHECK(desk.change_by(80, Side::right) < before);
}

TEST_CASE("what was not approved is not in force; versions are counted; another agency has none of it") {
  ProfileDesk desk;
  const auto before = desk.change_by(48);
  desk.propose("cell/lr6-family", {{"id", "lr6-family"}, {"holds", 0.7}});
  CHECK(desk.change_by(48) == before);
  desk.approve_cell(0.8);
  desk.approve_cell(0.7);
  const auto profiles = desk.households.profiles().of("north");
  REQUIRE(profiles->proposals.size() == 3);
  CHECK(profiles->proposals[0].state == service::Proposal::State::waiting);
  CHECK(profiles->proposals[1].version == 1);
  CHECK(profiles->proposals[2].version == 2);
  CHECK(desk.households.profiles().of("south")->versions.empty());
  CHECK_THROWS_AS(desk.approve(profiles->proposals[1].number), Problem);  // decided already
}

TEST_CASE("an old forecast is made again with what was known then") {
  ProfileDesk desk;
  const auto then = desk.change_by(48);
  desk.clock.set(after_h(60));
  desk.approve_cell(0.7);
  desk.add("north/h-1", kind::reading, 70, {{"side", "left"}, {"percent", 20}});
  CHECK(desk.change_by(72) < then);
  const auto record = desk.households.record_at("north/h-1", after_h(48));
  CHECK(service::household_forecast(record, after_h(48)).life.side(Side::left).change_by == then);
  CHECK(record.life.readings.empty());
}

TEST_CASE("measured values of a serial number go before those of its model") {
  ProfileDesk desk;
  const auto before = desk.change_by(48);
  auto measured = desk.libraries.stimulator("two-cells").value();
  measured.left.burst_slope_mA *= 1.3;
  desk.approve(desk.propose("unit/u-1", service::stimulator_file(measured)));
  CHECK(desk.change_by(48) < before);
  const auto libraries = desk.households.profiles().libraries_of("north");
  CHECK(libraries->unit("u-1", "two-cells")->left.burst_slope_mA == Approx(measured.left.burst_slope_mA));
  CHECK(libraries->unit("u-2", "two-cells")->left.burst_slope_mA == Approx(measured.left.burst_slope_mA / 1.3));
}

TEST_CASE("whose dates a proposal would move is told, and that later ones wait") {
  ProfileDesk desk;
  service::EffectBook book(desk.households);
  desk.propose("cell/lr6-family", {{"id", "lr6-family"}, {"holds", 1.3}});
  desk.propose("cell/lr6-example", {{"id", "lr6-example"}, {"holds", 0.5}});
  const auto proposals = desk.households.profiles().of("north")->proposals;
  const auto later = book.of("north", proposals[0]);
  REQUIRE(later.done);
  CHECK(later.of == 1);
  REQUIRE(later.moves.size() == 2);
  CHECK(later.moves[0].later);
  CHECK(later.moves[0].household == "h-1");
  CHECK(book.of("north", proposals[1]).of == 0);  // nobody has those in
  desk.add("north/h-1", service::desk::closed, 40, nlohmann::json::object());
  CHECK(service::EffectBook(desk.households).of("north", proposals[0]).of == 0);  // a closed home has no dates
}

TEST_CASE(
    "of a large agency it is known whose dates a proposal would move only once that was worked out beside the "
    "service") {
  ProfileDesk desk;
  for (std::size_t home = 0; home < service::small_agency; ++home) {
    const auto name = std::to_string(100 + home);
    desk.settle("north/h-" + name, "u-" + name);
  }
  service::EffectBook book(desk.households);
  desk.propose("cell/lr6-family", {{"id", "lr6-family"}, {"holds", 1.3}});
  const auto proposal = desk.households.profiles().of("north")->proposals.front();
  CHECK_FALSE(book.known("north", proposal));
  CHECK_FALSE(book.of("north", proposal).done);
  book.work(std::atomic<bool>{false});
  CHECK(book.known("north", proposal));
  CHECK(book.of("north", proposal).moves.size() == 2);
  CHECK_FALSE(service::EffectBook(desk.households).known("north", proposal));  // after a start it is worked out anew
}

TEST_CASE(
    "a model's new profile moves no unit that has measured values of its own, and a home that comes later is told") {
  ProfileDesk desk;
  auto measured = desk.libraries.stimulator("two-cells").value();
  desk.approve(desk.propose("unit/u-1", service::stimulator_file(measured)));
  measured.left.burst_slope_mA *= 1.3;
  desk.propose("stimulator/two-cells", service::stimulator_file(measured));
  const auto waiting = desk.households.profiles().of("north")->proposals.back();
  CHECK(service::EffectBook(desk.households).of("north", waiting).of == 0);
  desk.settle("north/h-2", "u-2");
  desk.sets("north/h-2", "left", 0, {});
  const auto effects = service::EffectBook(desk.households).of("north", waiting);
  CHECK(effects.of == 1);
  REQUIRE(effects.moves.size() == 1);
  CHECK(effects.moves.front().household == "h-2");
}

TEST_CASE("a stimulator's file reads as the profile that it was written from") {
  const auto unit = PlainProfiles().stimulator("two-cells").value();
  const auto document = service::stimulator_file(unit);
  const auto read = read_stimulator(json::Field(document, ""));
  CHECK(service::stimulator_file(read) == document);
}

TEST_CASE("measurements make a profile; a wrong unit is told at its place") {
  const PlainProfiles libraries;
  nlohmann::json body{{"kind", "unit"},
                      {"serial", "u-1"},
                      {"at", "2026-03-01T12:00:00Z"},
                      {"bursts",
                       {{{"side", "left"}, {"amplitude", 2.0}, {"current_mA", 50}},
                        {{"side", "left"}, {"amplitude", 4.0}, {"current_mA", 80}}}}};
  const auto good = service::read_proposal(json::Field(body, ""), libraries, "two-cells");
  REQUIRE(good.usable());
  CHECK(good.document["id"] == "two-cells");
  for (const auto& residual : good.residuals) CHECK(std::abs(residual.relative()) < 1e-9);  // a line through two points
  body["bursts"][0]["current_mA"] = 0.05;
  const auto bad = service::read_proposal(json::Field(body, ""), libraries, "two-cells");
  REQUIRE(bad.problems.size() == 1);
  CHECK(bad.problems.front().place == "/bursts/0/current_mA");
  CHECK_THAT(bad.problems.front().reason, holds("amperes, write 50 mA"));
  CHECK_THROWS_AS(service::read_proposal(json::Field(body, ""), libraries, ""), json::Refused);  // which model?
}
