// SPDX-License-Identifier: MIT
#include <memory>

#include "model/numerics/normal_prior.hpp"
#include "model/numerics/ridge.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::numerics;

TEST_CASE("ridge regression of one column is S_xy over S_xx plus the penalty") {
  // x -1 0 1, y -2 0 2 about means of 5 and 7: S_xx 2, S_xy 4 (Hoerl and Kennard 1970, by hand).
  Eigen::MatrixXd x(3, 1), y(3, 1);
  x << 4, 5, 6;
  y << 5, 7, 9;
  Eigen::RowVectorXd at(1);
  at << 6;
  CHECK(Ridge(x, y, 2.0).predict(at)[0] == Approx(7 + 4.0 / (2 + 2)));
  CHECK(Ridge(x, y, 1e-12).predict(at)[0] == Approx(9));
}

TEST_CASE("the chosen penalty is small for an exact line and large for noise that no column explains") {
  Eigen::MatrixXd x(6, 1), line(6, 1), noise(6, 1);
  x << 1, 2, 3, 4, 5, 6;
  line << 2, 4, 6, 8, 10, 12;
  noise << 1, -1, -1, 1, 1, -1;
  CHECK(best_penalty(x, line, 1e-4, 1e4, 9) == Approx(1e-4));
  CHECK(best_penalty(x, noise, 1e-4, 1e4, 9) > 1);
}

TEST_CASE("the normal prior's cost is the squared distance in standard deviations") {
  Eigen::VectorXd mean(2);
  mean << 1, 2;
  Eigen::MatrixXd covariance(2, 2);
  covariance << 4, 1.2, 1.2, 1;
  const std::unique_ptr<ceres::CostFunction> cost(normal_prior_cost(mean, covariance));
  const double at[] = {3, 1.5};
  const double* blocks[] = {at};
  double residuals[2];
  REQUIRE(cost->Evaluate(blocks, residuals, nullptr));
  // d = (2, -0.5); C^-1 = 1/(4 - 1.44) [[1, -1.2], [-1.2, 4]]: (4 + 2.4 + 1) / 2.56.
  CHECK(residuals[0] * residuals[0] + residuals[1] * residuals[1] == Approx(7.4 / 2.56));
}
