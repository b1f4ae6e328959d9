// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <string>

namespace cellarer::life {

/// What an agency has seen of a model of unit: where new units and sides of it start.
struct ModelKnowledge {
  double use_mean = 0;           ///< of log use over the profile's, all sides
  double channel_log_sd = -1;    ///< between channels; negative: the profile's `relative_sd`
  double bias_mean_points = 0;   ///< of the gauge
  double bias_sd_points = -1;    ///< negative: the profile's `bias_points`
  double exponent_mean = 0;      ///< of the amplitude's exponent over the profile's
  double exponent_sd = 0.2;      ///< an assumption until settings changes have shown it
  double gauge_noise_scale = 1;  ///< of the gauge noise over the profile's; below 1 it is told, and taken as 1
  bool operator==(const ModelKnowledge&) const = default;
};

/// What an agency's households have in common: an input of the forecast. The figures here are assumptions, until an
/// agency's own history gives better ones; standard deviations are of log use.
struct AgencyKnowledge {
  double household_log_sd = 0.05;                ///< both sides of a home alike
  double side_log_sd = 0.03;                     ///< a side apart from its unit and home
  double set_log_sd = 0.04;                      ///< one set from the next
  double drift_log_sd_per_month = 0.005;         ///< random walk of a side
  std::map<std::string, ModelKnowledge> models;  ///< by stimulator id

  ModelKnowledge model(const std::string& stimulator) const {
    const auto known = models.find(stimulator);
    return known == models.end() ? ModelKnowledge{} : known->second;
  }
  bool operator==(const AgencyKnowledge&) const = default;
};

}  // namespace cellarer::life
