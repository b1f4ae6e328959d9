// SPDX-License-Identifier: MIT
#include "tests/bench/peers/true_discharge.hpp"

#include "tests/bench/world/unit.hpp"

namespace cellarer::bench {

namespace {

/// Progress in an hour of standby over that in an hour of pacing: the mean over the charge to cut-off.
double standby_over_pacing(const LoadTable& pacing, const LoadTable& standby, double charge_to_cutoff) {
  return pacing.hours_at(charge_to_cutoff) / standby.hours_at(charge_to_cutoff);
}

}  // namespace

TrueDischarge::TrueDischarge(const World& world, const Brand& brand, std::size_t like_household,
                             const duty::Settings& settings, double burst_share)
    : unit_(world.unit_of(like_household)),
      settings_(settings),
      pacing_(brand.truth, unit_,
              pacing_load_of(unit_.side(settings.side), settings, unit_.side(settings.side).exponent), burst_share),
      standby_(brand.truth, unit_, standby_load_of(unit_.side(settings.side)), burst_share) {
  const double charge = pacing_.z_at(unit_.cutoff_V);
  hours_to_cutoff_ = pacing_.hours_at(charge);
  standby_share_ = standby_over_pacing(pacing_, standby_, charge);
}

double TrueDischarge::scale_percent(double progress_h) const {
  return percent_at(unit_.gauge.volts_at_percent, pacing_.set_V(pacing_.z_after(progress_h)));
}

duty::ChargeClock TrueDischarge::clock(Zone zone, Instant in, int days) const {
  duty::TimelineInput input;
  input.stimulator = unit_;
  input.side = settings_.side;
  input.zone = zone;
  input.settings = {settings_};
  input.settings.front().from = std::min(settings_.from, in);
  auto stretches = duty::timeline(input, in, in + std::chrono::hours(24 * days));
  for (auto& stretch : stretches) {
    stretch.load = duty::steady_load(stretch.activity == duty::Activity::pacing ? 1 : standby_share_);
  }
  return duty::ChargeClock(std::move(stretches));
}

}  // namespace cellarer::bench
