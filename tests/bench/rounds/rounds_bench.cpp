// SPDX-License-Identifier: MIT
// Plans for an invented agency: how long, how near to the relaxation, beside CBC and GLPK where they are installed.
// Figures on stdout, errors on stderr; exit code 0 done, 1 failed, 2 not understood.
#include <chrono>
#include <cstdio>
#include <ctime>
#include <iostream>
#include <map>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "model/rounds/plan.hpp"
#include "tests/bench/rounds/agency.hpp"
#include "tests/bench/rounds/peers.hpp"

namespace {

using namespace cellarer;
using namespace cellarer::bench;
using nlohmann::json;

struct Options {
  AgencySize size;
  double room = 1.05, stock = 0.9, disturbed = 0.05;
  int peer_seconds = 60;
  bool json = false, peers = false;
};

struct Case {
  std::string name;
  rounds::Plan plan;
  double seconds = 0, processor_seconds = 0;  ///< by the wall, and of one core
};

Case run(const std::string& name, const rounds::PlanInput& input) {
  const auto began = std::chrono::steady_clock::now();
  const std::clock_t processor_began = std::clock();
  Case one{name, rounds::plan(input)};
  one.processor_seconds = static_cast<double>(std::clock() - processor_began) / CLOCKS_PER_SEC;
  one.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
  return one;
}

json to_json(const Case& one) {
  const auto& f = one.plan.figures;
  const auto or_null = [](const auto& value) { return value ? json(*value) : json(); };
  return {{"case", one.name},
          {"seconds", one.seconds},
          {"processor_seconds", one.processor_seconds},
          {"visits", f.visits},
          {"visits_bound", or_null(f.visits_bound)},
          {"gap", or_null(f.gap())},
          {"risk", f.risk},
          {"risk_bound", f.risk_bound},
          {"left", one.plan.left.size()},
          {"confirmed", f.confirmed},
          {"moved", f.moved},
          {"proven", f.proven},
          {"parts", f.parts},
          {"alone", f.alone},
          {"by_flow", f.by_flow},
          {"repaired", f.repaired},
          {"searched", f.searched}};
}

json to_json(const PeerAnswer& peer) {
  return {{"solver", peer.name},
          {"installed", peer.installed},
          {"finished", peer.finished},
          {"visits", peer.value && peer.finished ? json(*peer.value) : json()},
          {"seconds", peer.seconds}};
}

void print(const Case& one) {
  const auto& f = one.plan.figures;
  const std::string gap = f.gap() ? std::to_string(*f.gap() * 100).substr(0, 5) + " %" : "-";
  const std::string bound = f.visits_bound ? std::to_string(*f.visits_bound) : "-";
  std::printf("| %-35s | %6.2f | %6.2f | %6ld | %6s | %8s | %5zu | %8.2f | %8.2f | %5ld of %5ld |\n", one.name.c_str(),
              one.seconds, one.processor_seconds, f.visits, bound.c_str(), gap.c_str(), one.plan.left.size(), f.risk,
              f.risk_bound, f.moved, f.confirmed);
}

void print(const PeerAnswer& peer) {
  if (!peer.installed) {
    std::printf("| %-20s | not installed |\n", peer.name.c_str());
    return;
  }
  // Of one that did not finish the log holds whatever it last wrote, an empty start too.
  std::printf("| %-20s | %8.2f | %10s | %s |\n", peer.name.c_str(), peer.seconds,
              peer.value && peer.finished ? std::to_string(*peer.value).substr(0, 8).c_str() : "-",
              peer.finished ? "yes" : "no");
}

std::vector<long> visits_by_area(const rounds::PlanInput& input, const rounds::Plan& plan, int areas) {
  std::map<std::string, std::string> area_of;
  for (const auto& round : input.rounds) area_of.emplace(round.id, round.area);
  std::vector<long> visits(static_cast<std::size_t>(areas), 0);
  for (const auto& stop : plan.stops) ++visits[static_cast<std::size_t>(area_number(area_of.at(stop.round)))];
  return visits;
}

int measure(const Options& options) {
  rounds::PlanInput input = invented_agency(options.size);
  std::vector<Case> cases;
  cases.push_back(run("no limits", input));
  const auto visits = visits_by_area(input, cases.back().plan, options.size.areas);
  limit_stops(input, visits, 1.3);
  cases.push_back(run("rounds with room for 1.3 times that", input));
  limit_stops(input, visits, options.room);
  cases.push_back(run("rounds with room for " + std::to_string(options.room).substr(0, 4) + " times", input));
  const rounds::Plan before = cases.back().plan;
  const rounds::PlanInput tight = input;
  std::vector<rounds::ConfirmedStop> stops;
  for (const auto& stop : before.stops) stops.push_back({stop.address, stop.round});
  limit_stops(input, visits, 1.15);
  confirm_and_disturb(input, stops, options.disturbed, options.size.seed);
  cases.push_back(run("confirmed, then some need it sooner", input));
  rounds::PlanInput short_of = tight;
  limit_stops(short_of, visits, 1.3);
  add_stock(short_of, options.stock, options.size.seed);
  cases.push_back(run("stock for " + std::to_string(options.stock).substr(0, 4) + " of the packs", short_of));
  std::vector<PeerAnswer> peers;
  if (options.peers)
    for (bool relaxed : {true, false}) {
      peers.push_back(ask_cbc(tight, options.peer_seconds, relaxed));
      peers.push_back(ask_glpk(tight, options.peer_seconds, relaxed));
    }
  if (options.json) {
    json document{{"basis", "invented"},
                  {"seed", options.size.seed},
                  {"households", options.size.households},
                  {"rounds_a_week", options.size.rounds_a_week},
                  {"weeks", options.size.weeks}};
    for (const Case& one : cases) document["cases"].push_back(to_json(one));
    for (const PeerAnswer& peer : peers) document["peers"].push_back(to_json(peer));
    std::cout << document.dump(2) << '\n';
    return 0;
  }
  std::printf("Invented agency, seed %llu: %d households in %d areas, %d rounds a week, %d weeks\n\n",
              static_cast<unsigned long long>(options.size.seed), options.size.households, options.size.areas,
              options.size.rounds_a_week, options.size.weeks);
  std::printf(
      "| case | s | processor s | visits | bound | above it | left | shortfalls expected | bound | confirmed stops "
      "moved "
      "|\n|---|---|---|---|---|---|---|---|---|---|\n");
  for (const Case& one : cases) print(one);
  if (!peers.empty())
    std::printf(
        "\nThe third case put to general solvers, %d s at most:\n\n| solver | s | visits | finished "
        "|\n|---|---|---|---|\n",
        options.peer_seconds);
  for (const PeerAnswer& peer : peers) print(peer);
  return 0;
}

}  // namespace

int main(int count, char** values) {
  CLI::App app{"Plans delivery rounds for an invented agency: time, visits, bounds.", "rounds_bench"};
  Options options;
  app.add_option("--seed", options.size.seed, "which agency is drawn")
      ->check(CLI::Range(std::uint64_t{0}, std::uint64_t{1} << 40))
      ->capture_default_str();
  app.add_option("--households", options.size.households, "size")->check(CLI::Range(1, 100000))->capture_default_str();
  app.add_option("--areas", options.size.areas, "areas that share no round")
      ->check(CLI::Range(1, 1000))
      ->capture_default_str();
  app.add_option("--rounds-a-week", options.size.rounds_a_week, "rounds of all areas, no fewer than areas")
      ->check(CLI::Range(1, 5000))
      ->capture_default_str();
  app.add_option("--weeks", options.size.weeks, "horizon")->check(CLI::Range(1, 26))->capture_default_str();
  app.add_option("--room", options.room, "of the tight case: stops beside the fewest visits")
      ->check(CLI::Range(0.5, 10.0))
      ->capture_default_str();
  app.add_option("--stock", options.stock, "of the last case: share of the packs that is there")
      ->check(CLI::Range(0.0, 2.0))
      ->capture_default_str();
  app.add_flag("--peers", options.peers, "also ask CBC and GLPK, where they are installed");
  app.add_option("--peer-seconds", options.peer_seconds, "time limit for each of them")
      ->check(CLI::Range(1, 3600))
      ->capture_default_str();
  app.add_flag("--json", options.json, "the figures as JSON");
  try {
    app.parse(count, values);
    if (options.size.rounds_a_week < options.size.areas)
      throw CLI::ValidationError("--rounds-a-week", "fewer than areas: every area needs a round a week");
  } catch (const CLI::ParseError& error) {
    return app.exit(error, std::cout, std::cerr) == 0 ? 0 : 2;
  }
  try {
    return measure(options);
  } catch (const std::exception& error) {
    std::cerr << "rounds_bench: " << error.what() << '\n';
    return 1;
  }
}
