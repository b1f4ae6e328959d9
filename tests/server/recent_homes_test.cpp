// SPDX-License-Identifier: MIT
#include "server/service/recent_homes.hpp"

#include "tests/support/catch.hpp"

using namespace cellarer;

namespace {

bool keeps_running(service::KeptLessons& home) {
  auto learned = home.take();
  const bool keeps = learned->running(Side::left) != nullptr;
  home.put_back(std::move(learned));
  return keeps;
}

}  // namespace

TEST_CASE("the sets that are in are kept for the homes that came last, and let go for those before them") {
  constexpr std::size_t kept = 96;
  service::RecentHomes recent;
  std::vector<std::shared_ptr<service::KeptLessons>> homes;
  for (std::size_t k = 0; k < kept; ++k) {
    homes.push_back(std::make_shared<service::KeptLessons>());
    CHECK_FALSE(keeps_running(*homes.back()));
    recent.came(homes.back());
    CHECK(keeps_running(*homes.back()));
  }
  recent.came(homes.front());  // once more: it is the newest now
  homes[2].reset();            // gone by itself
  for (std::size_t k = 0; k < 2; ++k) {
    homes.push_back(std::make_shared<service::KeptLessons>());
    recent.came(homes.back());
  }
  CHECK(keeps_running(*homes.front()));
  CHECK_FALSE(keeps_running(*homes[1]));
  CHECK(keeps_running(*homes[3]));
  CHECK(keeps_running(*homes.back()));
}

TEST_CASE("what is computed when a home has come to be an old one is not kept all the same") {
  service::KeptLessons home;
  home.keep_running(true);
  auto learned = home.take();
  home.keep_running(false);
  home.put_back(std::move(learned));
  CHECK_FALSE(keeps_running(home));
}
