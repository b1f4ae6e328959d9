// SPDX-License-Identifier: MIT
#include "tests/bench/speed/breath_by_breath_cvode.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace cellarer::bench {

namespace {

constexpr double slow_time_s = 1800, relative_tolerance = 1e-6;
constexpr double depth_tolerance = 1e-10, slow_tolerance_mA = 1e-4;

/// What the cells have left for the fast resistance [V], and that resistance as the set shows it [V/mA].
struct Source {
  double volts, volts_per_mA;
};

struct Problem {
  const SteadyPacing* pacing;
  bool burst;

  double wanted_mA() const { return burst ? pacing->load.burst_mA : pacing->load.rest_mA; }

  Source source(double depth, double slow_mA) const {
    const double cells = pacing->unit.cells_in_series;
    const double mean_share = pacing->load.mean_mA() / pacing->load.burst_mA;
    const double seen = burst ? std::max(pacing->unit.burst_seen, mean_share) : 1.0;
    const auto& curve = pacing->curve;
    return {cells * (curve.open_circuit_V(depth) - 1e-3 * slow_mA * curve.slow_ohm(depth)),
            1e-3 * cells * seen * curve.fast_ohm(depth)};
  }

  /// Not a number where the source cannot feed the converter.
  double drawn_mA(const Source& from) const {
    const auto& unit = pacing->unit;
    if (unit.converter == duty::Converter::constant_current) return wanted_mA();
    if (unit.converter == duty::Converter::constant_resistance)
      return from.volts / (unit.reference_V / wanted_mA() + from.volts_per_mA);
    const double power_mW = wanted_mA() * unit.reference_V;
    return 2 * power_mW / (from.volts + std::sqrt(from.volts * from.volts - 4 * from.volts_per_mA * power_mW));
  }
};

int slope(double, N_Vector state, N_Vector rate, void* data) {
  const auto& problem = *static_cast<const Problem*>(data);
  const double* at = NV_DATA_S(state);
  const double current_mA = problem.drawn_mA(problem.source(at[0], at[1]));
  if (!std::isfinite(current_mA)) return 1;
  NV_DATA_S(rate)[0] = current_mA / (problem.pacing->curve.capacity_mAh() * 3600);
  NV_DATA_S(rate)[1] = (current_mA - at[1]) / slow_time_s;
  return 0;
}

void require(int code, const char* what) {
  if (code < 0) throw std::runtime_error(std::string("CVODE: ") + what + " failed with " + std::to_string(code));
}

/// CVODE's objects, and their end.
class Solver {
 public:
  explicit Solver(Problem& problem) {
#if SUNDIALS_VERSION_MAJOR >= 7
    require(SUNContext_Create(SUN_COMM_NULL, &context_), "its context");
#else
    require(SUNContext_Create(nullptr, &context_), "its context");
#endif
    state_ = N_VNew_Serial(2, context_);
    tolerances_ = N_VNew_Serial(2, context_);
    NV_DATA_S(state_)[0] = NV_DATA_S(state_)[1] = 0;
    NV_DATA_S(tolerances_)[0] = depth_tolerance;
    NV_DATA_S(tolerances_)[1] = slow_tolerance_mA;
    iteration_ = SUNNonlinSol_FixedPoint(state_, 0, context_);
    memory_ = CVodeCreate(CV_ADAMS, context_);
    require(CVodeInit(memory_, slope, 0, state_), "CVodeInit");
    require(CVodeSVtolerances(memory_, relative_tolerance, tolerances_), "CVodeSVtolerances");
    require(CVodeSetNonlinearSolver(memory_, iteration_), "CVodeSetNonlinearSolver");
    require(CVodeSetUserData(memory_, &problem), "CVodeSetUserData");
  }
  ~Solver() {
    CVodeFree(&memory_);
    SUNNonlinSolFree(iteration_);
    N_VDestroy(state_);
    N_VDestroy(tolerances_);
    SUNContext_Free(&context_);
  }
  Solver(const Solver&) = delete;
  Solver& operator=(const Solver&) = delete;

  /// A burst or a rest from its beginning; the load jumps there, so nothing that was learned of its slope is kept.
  void advance(double seconds) {
    double reached = 0;
    require(CVodeReInit(memory_, 0, state_), "CVodeReInit");
    require(CVodeSetStopTime(memory_, seconds), "CVodeSetStopTime");
    require(CVode(memory_, seconds, state_, &reached, CV_NORMAL), "CVode");
  }
  double depth() const { return NV_DATA_S(state_)[0]; }
  double slow_mA() const { return NV_DATA_S(state_)[1]; }

 private:
  SUNContext context_ = nullptr;
  N_Vector state_ = nullptr, tolerances_ = nullptr;
  SUNNonlinearSolver iteration_ = nullptr;
  void* memory_ = nullptr;
};

}  // namespace

IntegratedLife life_by_cvode(const SteadyPacing& pacing) {
  Problem problem{&pacing, true};
  Solver solver(problem);
  const double breath_s = 60 / pacing.rate_per_min, burst_s = pacing.load.fraction * breath_s;
  IntegratedLife life;
  for (;; ++life.breaths) {
    problem.burst = true;
    solver.advance(burst_s);
    const auto now = problem.source(solver.depth(), solver.slow_mA());
    const double set_V = now.volts - now.volts_per_mA * problem.drawn_mA(now);
    if (!(set_V >= pacing.unit.cutoff_V)) break;
    problem.burst = false;
    solver.advance(breath_s - burst_s);
  }
  life.hours = static_cast<double>(life.breaths) * breath_s / 3600;
  return life;
}

}  // namespace cellarer::bench
