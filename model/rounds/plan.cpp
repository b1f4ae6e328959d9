// SPDX-License-Identifier: MIT
#include "model/rounds/plan.hpp"

#include <algorithm>
#include <stdexcept>
#include <tuple>

#include "model/rounds/check.hpp"
#include "model/rounds/search.hpp"
#include "model/rounds/share.hpp"
#include "model/rounds/solve.hpp"
#include "model/rounds/written.hpp"

namespace cellarer::rounds {

namespace {

constexpr int most_rounds_of_sharing = 5;  ///< plan, share out, plan again without what stock does not reach
constexpr std::size_t most_addresses_searched = 6;

struct Candidate {
  Grid grid;
  Solved solved;
  Shares shares;
  Cost cost() const {
    Cost cost;
    for (std::size_t a = 0; a < grid.addresses.size(); ++a)
      cost = cost + cost_of(grid, solved.draft, static_cast<int>(a));
    cost.risk_ppm = shares.risk_ppm;
    return cost;
  }
};

Candidate candidate(const PlanInput& input, const Shortage& shortage) {
  Grid grid = grid_of(input, shortage);
  Solved solved = solve(grid);
  Shares shares = share_out(input, grid, solved.draft);
  return {std::move(grid), std::move(solved), std::move(shares)};
}

/// With stock short, few addresses: exactly, sharing out for every combination of visits.
void search_with_stock(const PlanInput& input, Candidate& best) {
  std::vector<int> everybody;
  for (std::size_t a = 0; a < best.grid.addresses.size(); ++a) everybody.push_back(static_cast<int>(a));
  if (everybody.size() > most_addresses_searched) return;
  bool shared_exactly = true;
  const Whole whole = [&](const Draft& draft) {
    const Shares shares = share_out(input, best.grid, draft);
    shared_exactly = shared_exactly && shares.proven;
    Cost cost = cost_of(best.grid, draft, everybody);
    cost.risk_ppm = shares.risk_ppm;
    return cost;
  };
  const bool complete = search(best.grid, everybody, best.solved.draft, 100'000, whole, 8);
  best.shares = share_out(input, best.grid, best.solved.draft);
  best.solved.proven = best.solved.least_visits_proven = complete && shared_exactly;
  if (!best.solved.proven) return;
  best.solved.risk_bound_ppm = best.shares.risk_ppm;
  best.solved.visits_bound = best.cost().visits;
}

}  // namespace

Plan plan(const PlanInput& input) {
  if (const auto problems = problems_of(input); !problems.empty())
    throw std::invalid_argument(sentence_of(problems.front()));
  Candidate best = candidate(input, {});
  if (best.shares.short_of_stock) {
    const std::int64_t risk_bound =
        std::max(best.solved.risk_bound_ppm, risk_of_short_stock_ppm(input));  // stock only adds
    Shortage shortage = best.shares.shortage;
    for (int again = 1; again < most_rounds_of_sharing; ++again) {
      Candidate next = candidate(input, shortage);
      for (const auto& [need, from] : next.shares.shortage) shortage[need] = from;
      const bool settled = !next.shares.short_of_stock;
      if (next.cost() < best.cost()) best = std::move(next);
      if (settled) break;
    }
    // Needs that were left out count like any others from here on.
    Grid whole = grid_of(input);
    best.grid = std::move(whole);
    best.shares = share_out(input, best.grid, best.solved.draft);
    best.solved.risk_bound_ppm = risk_bound;
    best.solved.visits_bound.reset();
    best.solved.proven = best.solved.least_visits_proven = false;
    search_with_stock(input, best);
  }
  return written(input, best.grid, best.solved, best.shares);
}

std::optional<double> PlanFigures::gap() const {
  if (least_visits_proven) return 0.0;
  if (!visits_bound) return std::nullopt;
  return *visits_bound == 0 ? 0.0 : static_cast<double>(visits) / static_cast<double>(*visits_bound) - 1;
}

bool better(const PlanFigures& a, const PlanFigures& b) {
  return std::tuple{a.risk, a.visits, a.moved} < std::tuple{b.risk, b.visits, b.moved};
}

}  // namespace cellarer::rounds
