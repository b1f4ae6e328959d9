// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <utility>
#include <vector>

namespace cellarer::bench {

using PicturePoint = std::pair<double, double>;  ///< x to the right, y down

/// A line of a picture and the name that is to stand beside it.
struct NamedLine {
  std::string name;
  std::vector<PicturePoint> points;
};

/// Where a name stands: what its letters cover.
struct LabelBox {
  double left, right, top, bottom;
  bool holds(const PicturePoint& point) const {
    return left <= point.first && point.first <= right && top <= point.second && point.second <= bottom;
  }
  bool meets(const LabelBox& other) const {
    return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
  }
};

/// Points along a line at most 2 apart, so that a box without any of them is free of the line.
std::vector<PicturePoint> along(const std::vector<PicturePoint>& line);

/// One place for each line's name, in order: above the line to the right of one of its points, or below it to the left,
/// within `width` by `height`, where no other name and the fewest points of any line lie, near or in it; of equal ones
/// the leftmost. Meant for lines that fall to the right. Empty lines get an empty box.
std::vector<LabelBox> label_places(const std::vector<NamedLine>& lines, double width, double height);

}  // namespace cellarer::bench
