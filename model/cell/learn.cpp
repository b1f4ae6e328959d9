// SPDX-License-Identifier: MIT
#include "model/cell/learn.hpp"

#include <map>
#include <set>
#include <utility>

namespace cellarer::cell {

std::vector<PublishedCell> learnable(const std::vector<PublishedCell>& cells, const std::string& without_brand) {
  std::vector<PublishedCell> chosen;
  for (const PublishedCell& cell : cells) {
    std::set<std::pair<LoadKind, double>> loads;
    for (const Discharge& row : cell.discharges) loads.insert({row.load.kind, row.load.value});
    const bool tells = cell.designation == "LR6" && !cell.family && loads.size() >= 2;
    if (tells && cell.brand != without_brand) chosen.push_back(cell);
  }
  return chosen;
}

FamilyPrior learn_prior(const std::vector<PublishedCell>& cells, const LearnOptions& options) {
  std::map<std::string, double> files_of_brand;
  for (const PublishedCell& cell : cells) files_of_brand[cell.brand] += 1;
  FamilyPrior prior = options.start;
  std::vector<FitSummary> fits;
  for (int round = 0; round < options.rounds; ++round) {
    FitOptions fit_options;
    fit_options.prior = prior;
    fit_options.noise = options.noise;
    fit_options.tolerance = 1e-5;
    fit_options.outsider_log_sd = 0;
    std::vector<FitSummary> before;
    before.swap(fits);
    Parameters mean = Parameters::Zero();
    double weights = 0;
    for (const PublishedCell& cell : cells) {
      if (!before.empty()) fit_options.start = before[fits.size()].parameters;
      fits.push_back(fit(cell, fit_options));
      const double weight = 1 / files_of_brand[cell.brand];
      mean += weight * fits.back().parameters;
      weights += weight;
      if (options.after_fit) options.after_fit();
    }
    mean /= weights;
    Covariance sum = options.strength * options.start.covariance;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const Parameters from_mean = fits[i].parameters - mean;
      sum += (from_mean * from_mean.transpose() + fits[i].covariance) / files_of_brand[cells[i].brand];
    }
    prior = {mean, sum / (options.strength + weights)};
  }
  return prior;
}

}  // namespace cellarer::cell
