// SPDX-License-Identifier: MIT
#include "tests/faults/store_load.hpp"

namespace cellarer::testing {

namespace {

const Instant noon{std::chrono::seconds(1'772'366'400)};
constexpr int households = 4;

std::string household(int number) { return "agency/h-" + std::to_string(number % households); }

}  // namespace

StoreLoad::StoreLoad(store::Store& store)
    : StoreLoad(store, [&store](const std::string& household, const std::string& name) {
        store.append({household, "reading", noon, noon, "", name, name});
      }) {}

StoreLoad::StoreLoad(store::Store& store, WriteOne write) : write_(std::move(write)) {
  for (int i = 0; i < households; ++i) store.create_household({household(i), "{}", household(i), noon});
  for (int i = 0; i < clients; ++i) threads_.emplace_back([this, i] { client(i); });
}

void StoreLoad::client(int number) {
  // A name of no other load on the same file.
  static std::atomic<int> loads{0};
  const auto begin = std::to_string(++loads) + "-" + std::to_string(number) + "-";
  for (int count = 0; !ending_; ++count) {
    const auto name = begin + std::to_string(count);
    bool done = false;
    while (!done && !ending_) {
      try {
        write_(household(number), name);
        done = true;
      } catch (const store::StoreError&) {
        ++refused_;
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
      }
    }
    if (done) acknowledged_.add(name);
  }
}

void StoreLoad::wait_for(std::size_t more) const {
  const auto until = acknowledged_.count() + more;
  constexpr int longest_wait_ms = 60'000;
  for (int waited_ms = 0; acknowledged_.count() < until; ++waited_ms) {
    if (waited_ms > longest_wait_ms) throw std::runtime_error("the store takes no more writes");
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
}

void StoreLoad::end() {
  ending_ = true;
  for (auto& thread : threads_) {
    if (thread.joinable()) thread.join();
  }
}

std::vector<std::string> names_in(store::Store& store) {
  std::vector<std::string> names;
  for (int i = 0; i < households; ++i) {
    for (const auto& entry : store.entries(household(i))) names.push_back(entry.body);
  }
  return names;
}

}  // namespace cellarer::testing
