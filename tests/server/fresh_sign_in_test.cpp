// SPDX-License-Identifier: MIT
// A further passkey wants a fresh sign-in (OWASP ASVS 5.0.0, V7.5.1): a quarter of an hour
// (server/access/lifetimes.hpp).
#include "server/access/access_service.hpp"
#include "server/api/forecast_cache.hpp"
#include "server/api/handlers.hpp"
#include "server/api/model_forecaster.hpp"
#include "server/store/memory_store.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/fake_libraries.hpp"

using namespace cellarer;
using std::chrono::minutes;

namespace {

struct Desk {
  std::unique_ptr<store::Store> store = store::open_memory_store();
  FakeClock clock{Instant(std::chrono::seconds(1'772'366'400))};
  cellarer::testing::FakeLibraries libraries;
  api::ModelForecaster forecaster;
  service::HouseholdService households{*store, clock, libraries};
  api::ForecastCache forecasts{households, forecaster};
  access::AccessService access{store->access(), clock};
  api::Context context{households, forecasts, forecaster, access};

  api::Request request() const {
    api::Request one;
    one.principal = access::Principal{};
    one.principal->account = "a-1";
    one.principal->role = access::Role::planner;
    one.principal->signed_in_at = clock.now();
    return one;
  }
};

}  // namespace

TEST_CASE("a further passkey is offered within a quarter of an hour of signing in, not after", "[access]") {
  Desk desk;
  desk.access.serve_at("http://localhost:8080");
  const auto request = desk.request();
  desk.clock.advance(minutes(15));
  CHECK(api::post_passkey_options(desk.context, request, {}).status == 200);
  desk.clock.advance(std::chrono::seconds(1));
  for (const auto handler : {api::post_passkey_options, api::post_passkey}) {
    auto late = request;
    late.body = R"({"credential":{}})";
    try {
      handler(desk.context, late, {});
      FAIL("it was offered");
    } catch (const Problem& problem) {
      CHECK(problem.code() == ProblemCode::not_allowed);
      CHECK(problem.more.at("sign_in_again") == true);
    }
  }
}
