// SPDX-License-Identifier: MIT
#include "server/service/agency_document.hpp"

namespace cellarer::service {

using json::Field;

namespace {

void take(const Field& object, const char* name, double lowest, double highest, double& to) {
  if (const auto found = object.find(name)) to = found->number(lowest, highest);
}

life::ModelKnowledge read_model(const Field& document) {
  life::ModelKnowledge model;
  take(document, "use_mean", -1, 1, model.use_mean);
  take(document, "channel_log_sd", 0, 1, model.channel_log_sd);
  take(document, "bias_mean_points", -50, 50, model.bias_mean_points);
  take(document, "bias_sd_points", 0, 50, model.bias_sd_points);
  take(document, "exponent_mean", -2, 2, model.exponent_mean);
  take(document, "exponent_sd", 0, 2, model.exponent_sd);
  take(document, "gauge_noise_scale", 0.1, 10, model.gauge_noise_scale);
  return model;
}

nlohmann::json model_document(const life::ModelKnowledge& model) {
  nlohmann::json document{{"use_mean", model.use_mean},
                          {"bias_mean_points", model.bias_mean_points},
                          {"exponent_mean", model.exponent_mean},
                          {"exponent_sd", model.exponent_sd},
                          {"gauge_noise_scale", model.gauge_noise_scale}};
  // Below nought they stand for the profile's own.
  if (model.channel_log_sd >= 0) document["channel_log_sd"] = model.channel_log_sd;
  if (model.bias_sd_points >= 0) document["bias_sd_points"] = model.bias_sd_points;
  return document;
}

}  // namespace

nlohmann::json agency_document(const life::AgencyKnowledge& agency) {
  auto models = nlohmann::json::object();
  for (const auto& [id, model] : agency.models) models[id] = model_document(model);
  return {{"household_log_sd", agency.household_log_sd},
          {"side_log_sd", agency.side_log_sd},
          {"set_log_sd", agency.set_log_sd},
          {"drift_log_sd_per_month", agency.drift_log_sd_per_month},
          {"models", std::move(models)}};
}

life::AgencyKnowledge read_agency(const Field& document) {
  life::AgencyKnowledge agency;
  take(document, "household_log_sd", 0, 1, agency.household_log_sd);
  take(document, "side_log_sd", 0, 1, agency.side_log_sd);
  take(document, "set_log_sd", 0, 1, agency.set_log_sd);
  take(document, "drift_log_sd_per_month", 0, 1, agency.drift_log_sd_per_month);
  if (const auto models = document.find("models")) {
    if (!models->value().is_object()) models->refuse("wrong-type", "expected an object");
    for (auto model = models->value().begin(); model != models->value().end(); ++model) {
      agency.models[model.key()] = read_model(Field(*model, models->place() + "/" + model.key()));
    }
  }
  return agency;
}

}  // namespace cellarer::service
