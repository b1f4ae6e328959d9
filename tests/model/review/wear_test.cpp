// SPDX-License-Identifier: MIT
// Worn parts: Weibull lives with right-censoring against the handbook, and who is due against closed forms.
#include <cmath>

#include "model/review/worn_parts.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::review;
using namespace std::chrono_literals;

namespace {

std::vector<Service> handbook() {
  std::vector<Service> services;
  for (const double hours : {54, 187, 216, 240, 244, 335, 361, 373, 375, 386}) services.push_back({hours, true});
  for (int i = 0; i < 10; ++i) services.push_back({500, false});
  return services;
}

const Instant now = date::sys_days(date::year(2026) / 6 / 1);

}  // namespace

TEST_CASE("the Weibull fit of the handbook's right-censored lives") {
  // NIST/SEMATECH e-Handbook 8.4.1.3: shape 1.7208, scale 606.5280, log-likelihood -75.135.
  const auto fit = fit_weibull(handbook());
  REQUIRE(fit.has_value());
  CHECK(fit->shape == Approx(1.7208).margin(1e-4));
  CHECK(fit->scale_days == Approx(606.5280).margin(1e-2));
  CHECK(fit->log_likelihood == Approx(-75.135).margin(1e-3));
  CHECK(fit->worn_out == 10);
  CHECK(fit->in_all == 20);
  CHECK(fit->shape_95.low < fit->shape);
  CHECK(fit->scale_95_days.high > fit->scale_days);
}

TEST_CASE("a large sample with many censored lives is fitted as a textbook fits it") {
  // Meeker and Escobar (1998), table C.5 and example 8.16, as quoted with the answers of three programs: shape 2.0353,
  // scale 11792 to 11793.
  const int count[] = {288, 148, 1,   124, 1,  111, 1,  106, 99, 110, 114, 119, 127,
                       1,   1,   123, 93,  47, 41,  27, 1,   11, 6,   1,   2};
  const bool worn[] = {false, false, true,  false, true,  false, true,  false, false, false, false, false, false,
                       true,  true,  false, false, false, false, false, true,  false, false, false, false};
  const double time[] = {50,  150,  230,  250,  334,  350,  423,  450,  550,  650,  750,  850, 950,
                         990, 1009, 1050, 1150, 1250, 1350, 1450, 1510, 1550, 1650, 1850, 2050};
  std::vector<Service> services;
  for (int i = 0; i < 25; ++i) {
    for (int k = 0; k < count[i]; ++k) services.push_back({time[i], worn[i]});
  }
  const auto fit = fit_weibull(services);
  REQUIRE(fit.has_value());
  CHECK(fit->shape == Approx(2.0353).margin(2e-3));
  CHECK(fit->scale_days == Approx(11792).epsilon(1e-3));
}

TEST_CASE("scale and intervals of lives in another unit of time are the same in that unit") {
  // Weibull lives are closed under scaling: identity.
  auto doubled = handbook();
  for (auto& service : doubled) service.days *= 2;
  const auto one = fit_weibull(handbook()), two = fit_weibull(doubled);
  REQUIRE((one && two));
  CHECK(two->shape == Approx(one->shape));
  CHECK(two->scale_days == Approx(2 * one->scale_days));
  CHECK(two->scale_95_days.low == Approx(2 * one->scale_95_days.low));
}

TEST_CASE("one worn-out part tells no shape, and nothing is due by it") {
  CHECK_FALSE(fit_weibull({{100, true}, {200, false}}).has_value());
  const auto kinds = wear(
      {{"h-1", "antenna", now - 24h * 90, now - 24h * 10, true}, {"h-2", "antenna", now - 24h * 30, {}, false}}, now);
  REQUIRE(kinds.size() == 1);
  CHECK(kinds.front().due.empty());
}

TEST_CASE("who is due says on which side: both sides of a home wear theirs") {
  std::vector<PartService> services;
  for (int i = 0; i < 4; ++i)
    services.push_back({"h-1", "antenna", now - 24h * (400 - 50 * i), now - 24h * (350 - 45 * i), true});
  services.push_back({"h-1", "antenna", now - 24h * 10, std::nullopt, false, Side::right});
  services.push_back({"h-1", "antenna", now - 24h * 40, std::nullopt, false, Side::left});
  services.push_back({"h-1", "antenna", now - 24h * 1, std::nullopt, false});
  const auto kinds = wear(services, now);
  REQUIRE(kinds.size() == 1);
  const auto& due = kinds.front().due;
  REQUIRE(due.size() == 3);
  // The one that has been in use for longest is due first.
  CHECK(due[0].side == Side::left);
  CHECK(due[1].side == Side::right);
  CHECK_FALSE(due[2].side.has_value());
}

TEST_CASE("a home that wears parts fast is due before one that does not, and a new home as the agency is") {
  std::vector<PartService> services;
  const auto part = [&](const char* home, int from_days_ago, int to_days_ago, bool worn) {
    services.push_back({home, "antenna", now - 24h * from_days_ago, now - 24h * to_days_ago, worn});
  };
  for (int i = 0; i < 5; ++i) part("h-fast", 300 - 50 * i, 300 - 50 * i - 40, true);
  for (int i = 0; i < 5; ++i) part("h-slow", 1500 - 250 * i, 1500 - 250 * i - 200 - 20 * i, true);
  for (const char* home : {"h-fast", "h-slow", "h-new"})
    services.push_back({home, "antenna", now - 24h * 20, std::nullopt, false});
  const auto kinds = wear(services, now);
  REQUIRE(kinds.size() == 1);
  const auto& due = kinds.front().due;
  REQUIRE(due.size() == 3);
  CHECK(due[0].household == "h-fast");
  CHECK(due[2].household == "h-slow");
  for (const auto& one : due) CHECK(one.due_days < one.expected_days);
  // Closed form for a home of which nothing is known: S(t | s) = ((b + s^k) / (b + (s + t)^k))^a, b = a scale^k.
  const auto& fit = *kinds.front().fit;
  const double a = kinds.front().alike, b = a * std::pow(fit.scale_days, fit.shape);
  const double survive =
      std::pow((b + std::pow(20, fit.shape)) / (b + std::pow(20 + due[1].expected_days, fit.shape)), a);
  CHECK(survive == Approx(0.5).margin(1e-9));
}
