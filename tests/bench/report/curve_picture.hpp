// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <utility>
#include <vector>

namespace cellarer::bench {

/// The curves of waste against run-outs as a picture (SVG): one panel for each length of life, the same axes in each,
/// run-outs from 0.01 to 1000, waste from nought to what the highest curve needs, names beside the lines. Paper, ink
/// and lamp as in web/src/look.css, by day and by dark.
struct PictureCurve {
  enum class Ink { ours, best, peer };
  std::string name;
  Ink ink = Ink::peer;
  std::vector<std::pair<double, double>> points;  ///< run-outs per million side-nights, share wasted
};
struct PicturePanel {
  std::string title;
  std::vector<PictureCurve> curves;
};

std::string curve_picture(const std::string& title, const std::vector<PicturePanel>& panels);

}  // namespace cellarer::bench
