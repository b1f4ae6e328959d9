// SPDX-License-Identifier: MIT
// Control charts and their run lengths, against handbooks and the literature.
#include "model/review/charts.hpp"

#include "tests/support/catch.hpp"

using namespace cellarer::review;

TEST_CASE("the EWMA of the handbook's example, with its limits") {
  // NIST/SEMATECH e-Handbook 6.3.2.4: target 50, s 2.0539, weight 0.3, asymptotic limits 52.5884 and 47.4115.
  const std::vector<double> data{52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5,
                                 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1};
  const std::vector<double> published{50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33,
                                      50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99};
  EwmaDesign design{50, 2.0539, 0.3, 3, true};
  const auto points = ewma(data, design);
  REQUIRE(points.size() == published.size());
  for (std::size_t i = 0; i < points.size(); ++i) {
    CHECK(points[i].value == Approx(published[i]).margin(0.0055));
    CHECK(points[i].upper == Approx(52.5884).margin(1e-3));
    CHECK(points[i].lower == Approx(47.4115).margin(1e-3));
    CHECK_FALSE(points[i].signal);
  }
  // The exact limit of the first point is that of one value: width * sd * weight.
  design.asymptotic = false;
  CHECK(ewma(data, design).front().upper == Approx(50 + 3 * 2.0539 * 0.3));
}

TEST_CASE("the CUSUM of the handbook's example signals at its fifteenth group") {
  // NIST/SEMATECH e-Handbook 6.3.2.3 (from memory): target 325, k 0.3175, h 4.1959, in the data's own units.
  const std::vector<double> data{324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125,
                                 324.525, 325.225, 324.600, 324.625, 325.150, 326.325, 327.250,
                                 327.825, 328.500, 326.675, 327.775, 326.875, 328.350};
  const std::vector<double> high{0, 0, 0,    0,    0.03, 0,    0,    0,     0,     0,
                                 0, 0, 1.01, 2.94, 5.45, 8.63, 9.99, 12.45, 14.01, 17.04};
  const std::vector<double> low{0, 0.01, 0, 0.33, 0, 0, 0.56, 0.72, 0.17, 0.25, 0.31, 0, 0, 0, 0, 0, 0, 0, 0, 0};
  const auto points = cusum(data, {325, 1, 0.3175, 4.1959});
  for (std::size_t i = 0; i < points.size(); ++i) {
    CHECK(points[i].high == Approx(high[i]).margin(0.011));
    CHECK(points[i].low == Approx(low[i]).margin(0.011));
    CHECK(points[i].signal == (i >= 14));
  }
}

TEST_CASE("run lengths of the CUSUM are those of the literature") {
  // One-sided, k 0.5: published-figures of the project (h 4: 335.3 and 8.38; h 5: 930.7 and 10.38).
  CHECK(cusum_run_length(0.5, 4, 0) == Approx(335.3).epsilon(5e-4));
  CHECK(cusum_run_length(0.5, 4, 1) == Approx(8.38).margin(0.006));
  CHECK(cusum_run_length(0.5, 5, 0) == Approx(930.7).epsilon(5e-4));
  CHECK(cusum_run_length(0.5, 5, 1) == Approx(10.38).margin(0.006));
  // Vance, J. Qual. Technol. 18 (1986), table 1 (k 0, h 10), as quoted in the R package spc.
  CHECK(cusum_run_length(0, 10, -0.25) == Approx(2071.51).epsilon(1e-4));
  CHECK(cusum_run_length(0, 10, 0) == Approx(124.66).margin(0.006));
  CHECK(cusum_run_length(0, 10, 1) == Approx(10.75).margin(0.006));
  // SAS/QC User's Guide, one-sided example: k 0.5, h 3: 117.596 and, at one sigma, 6.40391.
  CHECK(cusum_run_length(0.5, 3, 0) == Approx(117.596).epsilon(1e-4));
  CHECK(cusum_run_length(0.5, 3, 1) == Approx(6.40391).epsilon(1e-4));
  // Lucas and Crosier, Technometrics 24 (1982), table 1: two-sided, k 0.5, h 4.
  const double shifts[] = {0, 0.25, 0.5, 1, 2, 3}, lengths[] = {168, 74.2, 26.6, 8.38, 3.34, 2.19};
  for (int i = 0; i < 6; ++i) CHECK(cusum_run_length_two_sided(0.5, 4, shifts[i]) == Approx(lengths[i]).epsilon(4e-3));
}

TEST_CASE("run lengths of the EWMA are those of the literature, and of the design") {
  // SAS/QC User's Guide, function EWMAARL: shift 1, weight 0.25, width 3.
  CHECK(ewma_run_length(0.25, 3, 1) == Approx(11.154267016).epsilon(1e-7));
  // Lucas and Saccucci, Technometrics 32 (1990), table 3, as quoted in the R package spc.
  const double shifts[] = {0, 0.5, 1, 2, 4}, half[] = {500, 88.8, 17.5, 3.63, 1.34},
               slow[] = {500, 29.3, 12.6, 5.99, 3.11};
  for (int i = 0; i < 5; ++i) {
    CHECK(ewma_run_length(0.5, 3.071, shifts[i]) == Approx(half[i]).epsilon(4e-3));
    CHECK(ewma_run_length(0.03, 2.437, shifts[i]) == Approx(slow[i]).epsilon(4e-3));
  }
  // What the designs of the charts promise: 500 and 370 points between false signals.
  CHECK(ewma_run_length(EwmaDesign{}.weight, EwmaDesign{}.width, 0) == Approx(500).epsilon(0.01));
  CHECK(cusum_run_length_two_sided(CusumDesign{}.k, CusumDesign{}.h, 0) == Approx(370).epsilon(0.01));
}
