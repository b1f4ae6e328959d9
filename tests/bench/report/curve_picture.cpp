// SPDX-License-Identifier: MIT
#include "tests/bench/report/curve_picture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <sstream>

namespace cellarer::bench {

namespace {

/// All lengths in user units of the picture; the axes are the same in every panel.
constexpr double panel_width = 300, panel_height = 320, left = 58, top = 84, gap = 22, below = 62;
constexpr double log_from = -2, log_to = 3;           ///< run-outs per million side-nights, powers of ten
constexpr double waste_from = 0.05, waste_to = 0.75;  ///< share
constexpr double in_question_per_million = 5;

std::string fixed(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.1f", value);
  return text;
}

double x_of(double run_outs_per_million) {
  return panel_width * (std::log10(run_outs_per_million) - log_from) / (log_to - log_from);
}
double y_of(double waste) { return panel_height * (waste_to - waste) / (waste_to - waste_from); }

const char* style =
    ":root{--paper:#fffdf7;--ink:#1b2230;--soft:#565d6d;--hair:#ded6c6;--lamp:#9a6a00}"
    "@media (prefers-color-scheme:dark){:root{--paper:#10141b;--ink:#eff1f5;--soft:#adb4c1;--hair:#2e3642;"
    "--lamp:#f2bf55}}"
    ".paper{fill:var(--paper)}text{font:14px system-ui,sans-serif;fill:var(--ink)}.small{font-size:13px;"
    "fill:var(--soft)}.title{font-size:17px;font-weight:600}.hair{stroke:var(--hair);fill:none}"
    ".ours{stroke:var(--lamp);stroke-width:3;fill:none}.best{stroke:var(--ink);stroke-width:2;fill:none}"
    ".peer{stroke:var(--soft);stroke-width:2;fill:none;stroke-dasharray:6 4}.asked{stroke:var(--soft);"
    "stroke-dasharray:2 4}.name-ours{fill:var(--lamp);font-weight:600}.name-peer{fill:var(--soft)}";

std::string text(double x, double y, const std::string& anchor, const std::string& kind, const std::string& words) {
  return "<text x=\"" + fixed(x) + "\" y=\"" + fixed(y) + "\" text-anchor=\"" + anchor + "\" class=\"" + kind + "\">" +
         words + "</text>\n";
}

std::string line(double x1, double y1, double x2, double y2, const std::string& kind) {
  return "<line x1=\"" + fixed(x1) + "\" y1=\"" + fixed(y1) + "\" x2=\"" + fixed(x2) + "\" y2=\"" + fixed(y2) +
         "\" class=\"" + kind + "\"/>\n";
}

std::string axes(bool with_numbers) {
  std::string drawn;
  for (const double waste : {0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7}) {
    drawn += line(0, y_of(waste), panel_width, y_of(waste), "hair");
    if (with_numbers)
      drawn += text(-8, y_of(waste) + 5, "end", "small", std::to_string(std::lround(100 * waste)) + " %");
  }
  constexpr std::array<const char*, 6> powers{"0.01", "0.1", "1", "10", "100", ""};
  for (std::size_t i = 0; i < powers.size(); ++i) {
    const double x = panel_width * static_cast<double>(i) / (powers.size() - 1);
    drawn += line(x, 0, x, panel_height, "hair");
    drawn += text(x, panel_height + 20, "middle", "small", powers[i]);
  }
  return drawn + line(x_of(in_question_per_million), 0, x_of(in_question_per_million), panel_height, "asked");
}

const char* kind_of(PictureCurve::Ink ink) {
  switch (ink) {
    case PictureCurve::Ink::ours:
      return "ours";
    case PictureCurve::Ink::best:
      return "best";
    case PictureCurve::Ink::peer:
      break;
  }
  return "peer";
}

/// The curve inside the panel; its name beside its leftmost point, above the line (the best possible's below).
std::string curve(const PictureCurve& curve) {
  std::vector<std::pair<double, double>> inside;
  for (const auto& [run_outs, waste] : curve.points) {
    if (run_outs > std::pow(10, log_from) && run_outs < std::pow(10, log_to) && waste > waste_from && waste < waste_to)
      inside.emplace_back(x_of(run_outs), y_of(waste));
  }
  std::sort(inside.begin(), inside.end());
  if (inside.empty()) return "";
  std::string drawn = std::string("<polyline class=\"") + kind_of(curve.ink) + "\" points=\"";
  for (const auto& [x, y] : inside) drawn += fixed(x) + "," + fixed(y) + " ";
  const double beside = curve.ink == PictureCurve::Ink::best ? 20 : -9;
  return drawn + "\"/>\n" +
         text(inside.front().first, inside.front().second + beside, "start", std::string("name-") + kind_of(curve.ink),
              curve.name);
}

}  // namespace

std::string curve_picture(const std::string& title, const std::vector<PicturePanel>& panels) {
  const double width = left + static_cast<double>(panels.size()) * (panel_width + gap);
  const double height = top + panel_height + below;
  std::ostringstream svg;
  svg << "<!-- SPDX-License-Identifier: MIT. Drawn by field_trial (tests/bench). -->\n"
      << "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " << fixed(width) << " " << fixed(height)
      << "\" role=\"img\">\n<title>" << title << "</title>\n<style>" << style << "</style>\n"
      << "<rect class=\"paper\" width=\"" << fixed(width) << "\" height=\"" << fixed(height) << "\"/>\n"
      << text(16, 30, "start", "title", title);
  for (std::size_t i = 0; i < panels.size(); ++i) {
    svg << "<g transform=\"translate(" << fixed(left + static_cast<double>(i) * (panel_width + gap)) << ","
        << fixed(top) << ")\">\n"
        << text(0, -14, "start", "name", panels[i].title) << axes(i == 0);
    for (const auto& one : panels[i].curves) svg << curve(one);
    svg << "</g>\n";
  }
  svg << text(left, height - 14, "start", "small",
              "Run-outs per million side-nights, times kept (dotted: 5). Upwards: share of the charge thrown away.")
      << "</svg>\n";
  return svg.str();
}

}  // namespace cellarer::bench
