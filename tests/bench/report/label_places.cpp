// SPDX-License-Identifier: MIT
#include "tests/bench/report/label_places.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace cellarer::bench {

namespace {

/// Of the picture's names: 14 px, of which a letter takes at most so much on average.
constexpr double letter_width = 8, text_height = 14, off_the_line = 4;
/// A name stands nearer to its own line than to any other.
constexpr double off_other_lines = 3;

LabelBox grown(const LabelBox& box, double by) {
  return {box.left - by, box.right + by, box.top - by, box.bottom + by};
}

std::ptrdiff_t points_in(const LabelBox& box, const std::vector<PicturePoint>& points) {
  return std::count_if(points.begin(), points.end(), [&](const PicturePoint& point) { return box.holds(point); });
}

std::vector<LabelBox> candidates(const std::string& name, const std::vector<PicturePoint>& line) {
  const double width = letter_width * static_cast<double>(name.size());
  std::vector<LabelBox> boxes;
  for (const auto& [x, y] : line) {
    boxes.push_back({x, x + width, y - off_the_line - text_height, y - off_the_line});
    boxes.push_back({x - width, x, y + off_the_line, y + off_the_line + text_height});
  }
  return boxes;
}

}  // namespace

std::vector<PicturePoint> along(const std::vector<PicturePoint>& line) {
  constexpr double apart = 2;
  std::vector<PicturePoint> points;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const auto [x, y] = line[i];
    const double right = line[i + 1].first - x, down = line[i + 1].second - y;
    const double steps = std::max(1.0, std::ceil(std::hypot(right, down) / apart));
    for (double step = 0; step < steps; ++step) points.emplace_back(x + right * step / steps, y + down * step / steps);
  }
  if (!line.empty()) points.push_back(line.back());
  return points;
}

std::vector<LabelBox> label_places(const std::vector<NamedLine>& lines, double width, double height) {
  std::vector<std::vector<PicturePoint>> points;
  for (const auto& line : lines) points.push_back(along(line.points));
  std::vector<LabelBox> places;
  for (std::size_t own = 0; own < lines.size(); ++own) {
    LabelBox best{};
    auto fewest = std::numeric_limits<std::ptrdiff_t>::max();
    for (const auto& box : candidates(lines[own].name, points[own])) {
      const bool outside = box.left < 0 || box.right > width || box.top < 0 || box.bottom > height;
      if (outside || std::any_of(places.begin(), places.end(), [&](const LabelBox& one) { return one.meets(box); }))
        continue;
      std::ptrdiff_t crossed = points_in(box, points[own]);
      for (std::size_t other = 0; other < lines.size(); ++other) {
        if (other != own) crossed += points_in(grown(box, off_other_lines), points[other]);
      }
      if (crossed < fewest) {
        fewest = crossed;
        best = box;
      }
    }
    places.push_back(best);
  }
  return places;
}

}  // namespace cellarer::bench
