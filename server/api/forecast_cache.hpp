// SPDX-License-Identifier: MIT
#pragma once
#include <future>
#include <mutex>
#include <unordered_map>

#include "server/api/forecaster.hpp"
#include "server/api/message.hpp"
#include "server/service/household_service.hpp"

/// Forecasts are asked for far more often than they change, so they are kept as finished bytes with their
/// entity tag. A kept one is out of date after a write to its household, after its agency recalled a lot or
/// corrected the number of one, ten minutes after it was made, and at the next changing time (then "tonight" is another
/// night). One household is computed once at a time, however many ask. Its charts stand behind a tap and cost a third
/// as much again: they are made when somebody asks for one, as of the same moment, and kept with it.
namespace cellarer::api {

struct FinishedForecast {
  std::int64_t last_entry = 0;  ///< of the household, as it was computed
  service::Lots lots;           ///< what its agency had said of lots
  Instant as_of, outdated_at;
  Bytes forecast;
  std::string forecast_tag;
  std::vector<stock::FreshLife> fresh_lives;  ///< see MadeForecast
};

using Finished = std::shared_ptr<const FinishedForecast>;

/// The charts of a kept forecast, left and right.
struct FinishedCharts {
  std::array<Bytes, 2> charts;
  std::array<std::string, 2> tags;
};
using Charts = std::shared_ptr<const FinishedCharts>;

class ForecastCache {
 public:
  ForecastCache(service::HouseholdService& households, const Forecaster& forecaster)
      : households_(households), forecaster_(forecaster) {}

  /// The kept one where it is not out of date, else null. A short read: may run on an I/O thread.
  Finished ready(const std::string& household);
  /// Computes where there is none. On a worker only. Throws `unknown-household`, `clock-behind`.
  Finished get(const std::string& household);
  /// The charts of what `ready` answers, where they were made, else null. A short read.
  Charts ready_charts(const std::string& household);
  /// The charts of what `get` answers. On a worker only. Throws what `get` throws.
  Charts charts(const std::string& household);
  /// After its household was erased: another may come under its name.
  void forget(const std::string& household);

 private:
  /// What a forecast must know to be up to date.
  struct Known {
    std::int64_t last_entry = 0;
    service::Lots lots;
    bool by(const FinishedForecast& made) const { return made.last_entry >= last_entry && made.lots == lots; }
  };
  Known known(const std::string& household) {
    return {households_.last_entry(household), households_.lots_of(household)};
  }
  struct Kept {
    Finished forecast;
    Charts charts = nullptr;  ///< none: nobody has asked for one
  };
  Kept fresh(const std::string& household, const Known& known);
  Kept kept(const std::string& household);
  Finished compute(const std::string& household);

  service::HouseholdService& households_;
  const Forecaster& forecaster_;
  std::mutex mutex_;
  std::unordered_map<std::string, Kept> kept_;
  std::unordered_map<std::string, std::shared_future<Finished>> running_;
  std::uint64_t forgotten_ = 0;  ///< what was begun before one of them is not kept
};

}  // namespace cellarer::api
