// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

/// Control charts of a sequence, in the literature's form. `side_chart.hpp` draws them for a side's sets.
namespace cellarer::review {

/// EWMA (Roberts, Technometrics 1 (1959), 239; NIST/SEMATECH e-Handbook 6.3.2.4):
///
///     w_t = weight x_t + (1 - weight) w_t-1,    w_0 = target
///     limits  target +- width sd sqrt(weight / (2 - weight) (1 - (1 - weight)^2t))    (asymptotic: without the
///     bracket)
struct EwmaDesign {
  double target = 0, sd = 1;
  double weight = 0.25;  ///< of the newest, above 0 to 1
  double width = 2.998;  ///< 0.25 and 2.998: 500 points between false signals (Lucas and Saccucci 1990)
  bool asymptotic = false;
};
struct EwmaPoint {
  double value = 0, lower = 0, upper = 0;
  bool signal = false;  ///< beyond a limit
};
std::vector<EwmaPoint> ewma(const std::vector<double>& values, const EwmaDesign& design);

/// Tabular CUSUM (Page, Biometrika 41 (1954), 100; NIST/SEMATECH e-Handbook 6.3.2.3):
///
///     high_t = max(0, high_t-1 + x_t - target - k sd),   low_t = max(0, low_t-1 - x_t + target - k sd)
///     a signal where either is above h sd
struct CusumDesign {
  double target = 0, sd = 1;
  double k = 0.5;   ///< reference value: half the shift to be found, in sd
  double h = 4.77;  ///< decision interval, in sd; with k = 0.5 370 points between false signals of either side
};
struct CusumPoint {
  double high = 0, low = 0;
  bool signal = false;
};
std::vector<CusumPoint> cusum(const std::vector<double>& values, const CusumDesign& design);

/// Average run lengths from the start (zero state), of independent normal numbers whose mean has shifted by so many
/// standard deviations: the integral equation by Gauss-Legendre quadrature (Vance, J. Qual. Technol. 18 (1986), 189;
/// Crowder, Technometrics 29 (1987), 401). Accuracy: 1e-4 relative for the designs above.
double cusum_run_length(double k, double h, double shift);            ///< one side, shifts up
double cusum_run_length_two_sided(double k, double h, double shift);  ///< 1 / (1 / up + 1 / down)
double ewma_run_length(double weight, double width, double shift);    ///< both sides, asymptotic limits

}  // namespace cellarer::review
