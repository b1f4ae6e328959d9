// SPDX-License-Identifier: MIT
#include "tests/bench/report/curve_picture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <sstream>

#include "tests/bench/report/label_places.hpp"

namespace cellarer::bench {

namespace {

/// All lengths in user units of the picture; the axes are the same in every panel.
constexpr double panel_width = 288, panel_height = 440, left = 58, top = 84, gap = 44, below = 62;
constexpr double log_from = -2, log_to = 3;  ///< run-outs per million side-nights, powers of ten
constexpr double in_question_per_million = 5;

std::string fixed(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.1f", value);
  return text;
}

double x_of(double log_run_outs) { return panel_width * (log_run_outs - log_from) / (log_to - log_from); }

/// Upwards from nought to the waste that the highest curve needs.
struct WasteAxis {
  int tens_of_percent;
  double y_of(double waste) const { return panel_height * (1 - 10 * waste / tens_of_percent); }
};

const char* style =
    ":root{--paper:#fffdf7;--ink:#1b2230;--soft:#565d6d;--hair:#ded6c6;--lamp:#9a6a00}"
    "@media (prefers-color-scheme:dark){:root{--paper:#10141b;--ink:#eff1f5;--soft:#adb4c1;--hair:#2e3642;"
    "--lamp:#f2bf55}}"
    ".paper{fill:var(--paper)}text{font:14px system-ui,sans-serif;fill:var(--ink);"
    "stroke:var(--paper);stroke-width:4px;paint-order:stroke}.small{font-size:13px;"
    "fill:var(--soft)}.title{font-size:17px;font-weight:600}.panel{font-weight:600}.hair{stroke:var(--hair);fill:none}"
    "polyline{stroke-linejoin:round}.ours{stroke:var(--lamp);stroke-width:3;fill:none}.best{stroke:var(--ink);stroke-"
    "width:2;fill:none}"
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

std::string axes(const WasteAxis& axis, bool with_numbers) {
  std::string drawn;
  for (int tens = 0; tens <= axis.tens_of_percent; ++tens) {
    const double y = axis.y_of(0.1 * tens);
    drawn += line(0, y, panel_width, y, "hair");
    if (with_numbers) drawn += text(-8, y + 5, "end", "small", std::to_string(10 * tens) + " %");
  }
  constexpr std::array<const char*, 6> powers{"0.01", "0.1", "1", "10", "100", "1000"};
  for (std::size_t i = 0; i < powers.size(); ++i) {
    const double x = panel_width * static_cast<double>(i) / (powers.size() - 1);
    drawn += line(x, 0, x, panel_height, "hair");
    drawn += text(x, panel_height + 20, "middle", "small", powers[i]);
  }
  const double x = x_of(std::log10(in_question_per_million));
  return drawn + line(x, 0, x, panel_height, "asked");
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

/// The part of a curve between the ends of the axis of run-outs, as (power of ten, waste).
std::vector<PicturePoint> visible(const PictureCurve& curve) {
  constexpr double nought = 1e-20;  // run-outs as good as none, for the logarithm
  std::vector<PicturePoint> all, part;
  for (const auto& [run_outs, waste] : curve.points) all.emplace_back(std::log10(std::max(run_outs, nought)), waste);
  std::sort(all.begin(), all.end(), [](const PicturePoint& a, const PicturePoint& b) {
    return a.first != b.first ? a.first < b.first : a.second > b.second;
  });
  for (std::size_t i = 0; i + 1 < all.size(); ++i) {
    const auto a = all[i], b = all[i + 1];
    if (b.first < log_from || a.first > log_to) continue;
    const auto held = [&](const PicturePoint& end) {
      const double log = std::clamp(end.first, log_from, log_to);
      return log == end.first ? end
                              : PicturePoint{log, std::lerp(a.second, b.second, (log - a.first) / (b.first - a.first))};
    };
    if (part.empty()) part.push_back(held(a));
    part.push_back(held(b));
  }
  return part;
}

WasteAxis axis_for(const std::vector<PicturePanel>& panels) {
  double highest = 0;
  for (const auto& panel : panels) {
    for (const auto& curve : panel.curves) {
      for (const auto& point : visible(curve)) highest = std::max(highest, point.second);
    }
  }
  return {std::max(1, static_cast<int>(std::ceil(10 * highest)))};
}

/// The lines of a panel, and their names beside them.
std::string curves(const PicturePanel& panel, const WasteAxis& axis) {
  std::vector<NamedLine> lines;
  for (const auto& curve : panel.curves) {
    auto& points = lines.emplace_back(NamedLine{curve.name, visible(curve)}).points;
    for (auto& [x, y] : points) x = x_of(x), y = axis.y_of(y);
  }
  const auto places = label_places(lines, panel_width, panel_height);
  std::string drawn, names;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (lines[i].points.empty()) continue;
    const std::string kind = kind_of(panel.curves[i].ink);
    drawn += "<polyline class=\"" + kind + "\" points=\"";
    for (const auto& [x, y] : lines[i].points) drawn += fixed(x) + "," + fixed(y) + " ";
    drawn += "\"/>\n";
    constexpr double below_baseline = 2;
    names += text(places[i].left, places[i].bottom - below_baseline, "start", "name-" + kind, lines[i].name);
  }
  return drawn + names;
}

}  // namespace

std::string curve_picture(const std::string& title, const std::vector<PicturePanel>& panels) {
  const double width = left + static_cast<double>(panels.size()) * (panel_width + gap);
  const double height = top + panel_height + below;
  const auto axis = axis_for(panels);
  std::ostringstream svg;
  svg << "<!-- SPDX-License-Identifier: MIT. Drawn by field_trial (tests/bench). -->\n"
      << "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " << fixed(width) << " " << fixed(height)
      << "\" role=\"img\">\n<title>" << title << "</title>\n<style>" << style << "</style>\n"
      << "<rect class=\"paper\" width=\"" << fixed(width) << "\" height=\"" << fixed(height) << "\"/>\n"
      << text(16, 30, "start", "title", title);
  for (std::size_t i = 0; i < panels.size(); ++i) {
    svg << "<g transform=\"translate(" << fixed(left + static_cast<double>(i) * (panel_width + gap)) << ","
        << fixed(top) << ")\">\n"
        << text(0, -14, "start", "panel", panels[i].title) << axes(axis, i == 0) << curves(panels[i], axis) << "</g>\n";
  }
  svg << text(left, height - 14, "start", "small",
              "Run-outs per million side-nights, times kept (dotted: 5). Upwards: share of the charge thrown away. "
              "N: days; one for all: over the three together.")
      << "</svg>\n";
  return svg.str();
}

}  // namespace cellarer::bench
