// SPDX-License-Identifier: MIT
// SIGKILL at random moments while 16 clients write over HTTP: after each start every acknowledged write is there, once,
// and the file and its audit trail are whole.
#include <signal.h>

#include <atomic>
#include <random>
#include <thread>

#include "server/store/maintenance.hpp"
#include "server/store/sqlite_store.hpp"
#include "tests/faults/store_load.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer;
using namespace cellarer::testing;

namespace {

constexpr int kills_a_folder = 25;  // then a new one, so that reading everything back stays short
constexpr int households = 4;

std::string household(int client) { return "h-" + std::to_string(client % households); }

/// One client, whose writes outlive services: what is not acknowledged by one is sent to the next, under its key.
struct Writer {
  int number = 0, count = 0;

  void write(int port, const std::atomic<bool>& ending, Acknowledged& acknowledged) {
    HttpClient client(port);
    const auto path = "/api/v1/households/" + household(number) + "/readings";
    while (!ending) {
      const auto name = std::to_string(number) + "-" + std::to_string(count);
      const nlohmann::json body{{"at", "2026-03-01T21:30:00Z"}, {"side", "left"}, {"percent", 60}, {"who", name}};
      const auto answer =
          client.send("POST", path, body.dump(),
                      {"Content-Type: application/json", "Idempotency-Key: " + name, "Prefer: return=minimal"});
      if (answer.status == 201) {
        acknowledged.add(name);
        ++count;
      } else if (answer.status != 0 && answer.status != 503) {
        throw std::runtime_error(std::to_string(answer.status) + " " + answer.body);
      }
    }
  }
};

/// The names in the labels of all readings.
std::vector<std::string> names_in_file(const std::filesystem::path& file) {
  const auto store = store::open_sqlite_store(file);
  std::vector<std::string> names;
  for (const auto& kept : store->households("", 100)) {
    for (const auto& entry : store->entries(kept.reference)) names.push_back(entry.who);
  }
  return names;
}

void settle(int port) {
  HttpClient client(port);
  for (int i = 0; i < households; ++i) {
    const auto answer = client.post(
        "/api/v1/households", {{"household", household(i)}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}},
        household(i));
    if (answer.status != 201) throw std::runtime_error(answer.body);
  }
}

void kill_under_load(const std::string& data, int kills, std::mt19937& chance, FaultRow& row) {
  std::vector<Writer> writers(clients);
  for (int i = 0; i < clients; ++i) writers[static_cast<std::size_t>(i)].number = i;
  Acknowledged acknowledged;
  const auto file = std::filesystem::path(data) / store::file_name;
  for (int i = 0; i < kills; ++i) {
    const Service service(nullptr, data);
    if (i == 0) settle(service.port());
    std::atomic<bool> ending{false};
    std::vector<std::thread> threads;
    for (Writer& writer : writers) {
      threads.emplace_back([&] { writer.write(service.port(), ending, acknowledged); });
    }
    const auto before = acknowledged.count();
    while (acknowledged.count() < before + clients) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    std::this_thread::sleep_for(std::chrono::milliseconds(chance() % 300));
    kill(service.process(), SIGKILL);
    ending = true;
    for (auto& thread : threads) thread.join();
    ++row.times;
    compare(row, acknowledged.names(), names_in_file(file));
    REQUIRE(store::check(file).faults == std::vector<std::string>{});
  }
  row.acknowledged += static_cast<std::int64_t>(acknowledged.count());
}

FaultRow run_kills(int kills) {
  std::mt19937 chance(20260303);
  FaultRow row{"SIGKILL of the service"};
  while (row.times < kills) {
    const TemporaryFolder folder;
    kill_under_load((folder.path() / "data").string(), std::min(kills_a_folder, kills - row.times), chance, row);
  }
  print_at_end(row);
  return row;
}

}  // namespace

TEST_CASE("a service killed under load loses nothing that it acknowledged", "[faults][kill]") {
  const auto row = run_kills(20);
  CHECK(row.lost == 0);
  CHECK(row.doubled == 0);
}

TEST_CASE("a service killed 500 times under load loses nothing that it acknowledged", "[.long][long][faults][kill]") {
  const auto row = run_kills(500);
  CHECK(row.lost == 0);
  CHECK(row.doubled == 0);
}
