// SPDX-License-Identifier: MIT
#include "model/rounds/flow.hpp"

#include <algorithm>
#include <cassert>

#include <lemon/network_simplex.h>
#include <lemon/smart_graph.h>

namespace cellarer::rounds {

Flow assign(const std::vector<std::vector<Choice>>& visits, const std::vector<int>& limits,
            std::int64_t unplaced_cost) {
  using Graph = lemon::SmartDigraph;
  Graph graph;
  std::vector<Graph::Node> columns, places;
  const Graph::Node sink = graph.addNode();
  for (std::size_t c = 0; c < limits.size(); ++c) columns.push_back(graph.addNode());
  Graph::ArcMap<std::int64_t> cost(graph);
  Graph::ArcMap<int> limit(graph);
  Graph::NodeMap<int> supply(graph, 0);
  const auto add = [&](Graph::Node from, Graph::Node to, int most, std::int64_t price) {
    const Graph::Arc arc = graph.addArc(from, to);
    limit[arc] = most, cost[arc] = price;
    return arc;
  };
  for (std::size_t c = 0; c < limits.size(); ++c) add(columns[c], sink, std::max(limits[c], 0), 0);
  std::vector<std::vector<Graph::Arc>> arcs(visits.size());
  for (std::size_t i = 0; i < visits.size(); ++i) {
    const Graph::Node place = graph.addNode();
    places.push_back(place);
    supply[place] = 1;
    for (const Choice& choice : visits[i])
      arcs[i].push_back(add(place, columns[static_cast<std::size_t>(choice.column)], 1, choice.cost));
    add(place, sink, 1, unplaced_cost);
  }
  supply[sink] = -static_cast<int>(visits.size());
  lemon::NetworkSimplex<Graph, int, std::int64_t> simplex(graph);
  simplex.upperMap(limit).costMap(cost).supplyMap(supply);
  [[maybe_unused]] const auto status = simplex.run();
  assert(status == decltype(simplex)::OPTIMAL);  // every visit may stay unplaced

  Flow flow{std::vector<int>(visits.size(), -1), std::vector<std::int64_t>(limits.size(), 0), 0, 0};
  for (std::size_t i = 0; i < visits.size(); ++i) {
    for (std::size_t k = 0; k < arcs[i].size(); ++k)
      if (simplex.flow(arcs[i][k]) > 0) flow.column[i] = visits[i][k].column, flow.cost += visits[i][k].cost;
    if (flow.column[i] < 0) ++flow.unplaced, flow.cost += unplaced_cost;
  }
  for (std::size_t c = 0; c < limits.size(); ++c)
    flow.prices[c] = std::max<std::int64_t>(0, simplex.potential(sink) - simplex.potential(columns[c]));
  return flow;
}

}  // namespace cellarer::rounds
