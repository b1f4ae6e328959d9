// SPDX-License-Identifier: MIT
#include "model/review/worn_parts.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace cellarer::review {

namespace {

constexpr double due_probability = 0.05;

double days_between(Instant a, Instant b) { return hours_between(a, b) / 24; }

bool running(const PartService& part, Instant now) { return !part.to || *part.to > now; }

/// A household's rate, as Gamma(count, exposure) in the unit of t^shape.
struct Rate {
  double count, exposure;
};

/// Days from now until it has worn out with this probability: the survival of the header, solved for t.
double days_until(double probability, const Rate& rate, double age_days, double shape) {
  const double start = rate.exposure + std::pow(age_days, shape);
  const double end = start * std::pow(1 - probability, -1 / rate.count);
  return std::max(std::pow(end - rate.exposure, 1 / shape) - age_days, 0.0);
}

double worn_out_within(double days, const Rate& rate, double age_days, double shape) {
  const double start = rate.exposure + std::pow(age_days, shape);
  const double end = rate.exposure + std::pow(age_days + days, shape);
  return 1 - std::pow(start / end, rate.count);
}

void who_is_due(WearOfKind& wear, const std::vector<const PartService*>& parts, Instant now) {
  const double shape = wear.fit->shape;
  std::map<std::string, Rate> homes;
  const Rate agency{wear.alike, wear.alike * std::pow(wear.fit->scale_days, shape)};
  for (const auto* part : parts) {
    auto& rate = homes.try_emplace(part->household, agency).first->second;
    // What runs is counted where its own end is asked for.
    if (running(*part, now)) continue;
    rate.exposure += std::pow(days_between(part->from, *part->to), shape);
    rate.count += part->worn_out ? 1 : 0;
  }
  for (const auto* part : parts) {
    if (!running(*part, now)) continue;
    const auto& rate = homes.at(part->household);
    PartDue due{part->household, part->kind, part->side, part->from, days_between(part->from, now), 0, 0, 0};
    due.due_days = days_until(due_probability, rate, due.days_in_use, shape);
    due.expected_days = days_until(0.5, rate, due.days_in_use, shape);
    due.worn_out_in_30_days = worn_out_within(30, rate, due.days_in_use, shape);
    wear.due.push_back(std::move(due));
  }
  std::stable_sort(wear.due.begin(), wear.due.end(),
                   [](const PartDue& a, const PartDue& b) { return a.due_days < b.due_days; });
}

}  // namespace

std::vector<WearOfKind> wear(const std::vector<PartService>& services, Instant now) {
  std::map<std::string, std::vector<const PartService*>> kinds;
  for (const auto& service : services) {
    if (service.from < now && (!service.to || *service.to > service.from)) kinds[service.kind].push_back(&service);
  }
  std::vector<WearOfKind> all;
  for (const auto& [kind, parts] : kinds) {
    WearOfKind one;
    one.kind = kind;
    std::vector<Service> lives;
    for (const auto* part : parts) {
      const bool runs = running(*part, now);
      lives.push_back({days_between(part->from, runs ? now : *part->to), !runs && part->worn_out});
    }
    one.fit = fit_weibull(lives);
    if (one.fit) who_is_due(one, parts, now);
    all.push_back(std::move(one));
  }
  return all;
}

}  // namespace cellarer::review
