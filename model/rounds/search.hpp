// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <vector>

#include "model/rounds/draft.hpp"

/// The exact answer where it is small: branch and bound over the ways to visit each address.
namespace cellarer::rounds {

/// What stock leaves unmet beside the cost of a finished draft: its whole cost. Never below the sum of the addresses'
/// own.
using Whole = std::function<Cost(const Draft&)>;

/// Improves `draft` for these addresses and says whether the best was found for certain: not if there are more than
/// `most_ways` ways for one address or more than `nodes` partial plans to look at. With `whole`, every combination of
/// visits is a way of its own, since with stock short a superfluous visit may be worth while.
bool search(const Grid& grid, const std::vector<int>& addresses, Draft& draft, long nodes = 200'000,
            const Whole& whole = {}, int most_columns = 10);

}  // namespace cellarer::rounds
