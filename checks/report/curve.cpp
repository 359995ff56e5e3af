#include "checks/report/curve.hpp"

#include "checks/report/markup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

namespace evenclose {
namespace {

constexpr int kWidth = 720, kPlotHeight = 260;
constexpr int kLeft = 64, kRight = 18, kTop = 14, kAxis = 46; // kAxis: numbers and words under the plot
constexpr int kRow = 20;                                      // of a line's name
constexpr const char* kInk = "#22303a";
constexpr const char* kGraphite = "#5f5a4c";
constexpr const char* kGrid = "#ddd5c3";
constexpr const char* kFoul = "#a52e0c";

constexpr std::array kColours = {"#0072b2", "#d55e00", "#009e73", "#cc79a7", "#7a5c00", "#3a3a3a"};
constexpr std::array kDashes = {"", "9 4", "2.5 3", "10 3 2.5 3", "5 2.5", "14 4"};

struct Range {
    double low = 0, high = 0;
    void take(double value) {
        low = std::min(low, value);
        high = std::max(high, value);
    }
};

struct Scales {
    Range x, y;
    double x_step = 1, y_step = 1;
    [[nodiscard]] double px(double value) const {
        return kLeft + (value - x.low) / (x.high - x.low) * (kWidth - kLeft - kRight);
    }
    [[nodiscard]] double py(double value) const { return kTop + (y.high - value) / (y.high - y.low) * kPlotHeight; }
};

/// Both axes hold 0; the upright one ends on a whole step with room above what is drawn.
Scales scales_of(const Curve& curve) {
    Scales scales;
    for (const CurveLine& line : curve.lines) {
        const auto take = [&](const Vec2& point) {
            scales.x.take(point.x);
            scales.y.take(point.y);
        };
        for (const std::vector<Vec2>& run : line.runs) {
            std::for_each(run.begin(), run.end(), take);
        }
        std::for_each(line.upper_edge.begin(), line.upper_edge.end(), take);
        for (const auto& [from, to] : line.fouls) {
            scales.x.take(from);
            scales.x.take(to);
        }
    }
    for (const CurveLimit& limit : curve.limits) {
        scales.y.take(limit.y);
    }
    if (scales.x.high <= scales.x.low) {
        scales.x.high = scales.x.low + 1;
    }
    if (scales.y.high <= scales.y.low) {
        scales.y.high = scales.y.low + 1;
    }
    scales.x_step = scale_step(scales.x.high - scales.x.low, 10);
    scales.y_step = scale_step(scales.y.high - scales.y.low, 6);
    scales.y.high = std::ceil(scales.y.high / scales.y_step + 0.05) * scales.y_step;
    scales.y.low = scales.y.low < 0 ? std::floor(scales.y.low / scales.y_step - 0.05) * scales.y_step : 0.0;
    return scales;
}

std::string number(double value, double step) {
    const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
    return fmt::format("{:.{}f}", std::abs(value) < step * 1e-6 ? 0.0 : value, decimals);
}

std::string words(double x, double y, const char* anchor, const char* colour, const std::string& text,
                  double size = 12) {
    return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\" font-size=\"{}\" fill=\"{}\">{}</text>\n", x,
                       y, anchor, size, colour, escaped(text));
}

std::string rule(double x1, double y1, double x2, double y2, const char* colour, double width, const char* dash = "") {
    return fmt::format(
        "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\" stroke-width=\"{}\"{}/>\n", x1, y1,
        x2, y2, colour, width, *dash != '\0' ? fmt::format(" stroke-dasharray=\"{}\"", dash) : "");
}

std::string axes(const Curve& curve, const Scales& scales) {
    std::string svg;
    const double foot = kTop + kPlotHeight;
    for (double at = std::ceil(scales.y.low / scales.y_step - 1e-9) * scales.y_step;
         at <= scales.y.high + 1e-9 * scales.y_step; at += scales.y_step) {
        const double y = scales.py(at);
        svg += rule(kLeft, y, kWidth - kRight, y, kGrid, 1);
        svg += words(kLeft - 7, y + 4, "end", kGraphite, number(at, scales.y_step));
    }
    for (double at = std::ceil(scales.x.low / scales.x_step - 1e-9) * scales.x_step;
         at <= scales.x.high + 1e-9 * scales.x_step; at += scales.x_step) {
        const double x = scales.px(at);
        svg += rule(x, foot, x, foot + 5, kGraphite, 1);
        svg += words(x, foot + 19, "middle", kGraphite, number(at, scales.x_step));
    }
    svg += rule(kLeft, kTop, kLeft, foot, kGraphite, 1);
    svg += rule(kLeft, scales.py(0), kWidth - kRight, scales.py(0), kGraphite, 1.2);
    svg += words((kLeft + kWidth - kRight) / 2.0, foot + 38, "middle", kInk, curve.x_words);
    svg += fmt::format("<text transform=\"translate(15 {:.1f}) rotate(-90)\" text-anchor=\"middle\" font-size=\"12\" "
                       "fill=\"{}\">{}</text>\n",
                       kTop + kPlotHeight / 2.0, kInk, escaped(curve.y_words));
    return svg;
}

std::string path_of(const std::vector<Vec2>& points, const Scales& scales) {
    std::string path;
    for (const Vec2& point : points) {
        path += fmt::format("{}{:.1f} {:.1f}", path.empty() ? "M" : "L", scales.px(point.x), scales.py(point.y));
    }
    return path;
}

std::string line_of(const CurveLine& line, std::size_t which, const Scales& scales) {
    const char* colour = kColours[which % kColours.size()];
    const char* dash = line.dashed ? "6 4" : kDashes[which % kDashes.size()];
    std::string svg;
    if (!line.upper_edge.empty() && line.runs.size() == 1) {
        std::vector<Vec2> outline = line.runs.front();
        outline.insert(outline.end(), line.upper_edge.rbegin(), line.upper_edge.rend());
        svg += fmt::format("<path d=\"{}Z\" fill=\"{}\" fill-opacity=\"0.18\" stroke=\"{}\" stroke-width=\"1.4\"/>\n",
                           path_of(outline, scales), colour, colour);
        return svg;
    }
    for (const std::vector<Vec2>& run : line.runs) {
        svg += fmt::format(
            "<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"2\" stroke-linejoin=\"round\"{}/>\n",
            path_of(run, scales), colour, *dash != '\0' ? fmt::format(" stroke-dasharray=\"{}\"", dash) : "");
    }
    for (const auto& [from, to] : line.fouls) {
        const double left = scales.px(from);
        svg += rule(left, scales.py(0), std::max(scales.px(to), left + 3), scales.py(0), kFoul, 7);
    }
    return svg;
}

/// A sample of the line and its name, in a row of its own.
std::string named(const CurveLine& line, std::size_t which, double y) {
    const char* colour = kColours[which % kColours.size()];
    std::string svg;
    if (!line.upper_edge.empty()) {
        svg += fmt::format("<rect x=\"{}\" y=\"{:.1f}\" width=\"34\" height=\"10\" fill=\"{}\" fill-opacity=\"0.18\" "
                           "stroke=\"{}\"/>\n",
                           kLeft, y - 9, colour, colour);
    } else {
        svg += rule(kLeft, y - 4, kLeft + 34, y - 4, colour, 2, line.dashed ? "6 4" : kDashes[which % kDashes.size()]);
    }
    if (!line.fouls.empty()) {
        svg += rule(kLeft + 8, y - 4, kLeft + 26, y - 4, kFoul, 7);
    }
    return svg + words(kLeft + 44, y, "start", kInk, line.name);
}

} // namespace

double scale_step(double range, int most) {
    const double power = std::pow(10.0, std::floor(std::log10(range / most)));
    for (const double times : {1.0, 2.0, 5.0}) {
        if (range / (times * power) <= most) {
            return times * power;
        }
    }
    return 10 * power;
}

Drawing drawn(const Curve& curve) {
    const Scales scales = scales_of(curve);
    const int names_from = kTop + kPlotHeight + kAxis + 14;
    Drawing drawing;
    drawing.width = kWidth;
    drawing.height = names_from + kRow * static_cast<int>(curve.lines.size()) - 4;
    drawing.svg =
        fmt::format("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1}\" width=\"{0}\" height=\"{1}\" "
                    "font-family=\"Open Sans, DejaVu Sans, sans-serif\" role=\"img\" aria-label=\"{2}\">\n",
                    drawing.width, drawing.height, escaped(curve.title));
    drawing.svg += axes(curve, scales);
    for (std::size_t i = 0; i < curve.lines.size(); ++i) {
        drawing.svg += line_of(curve.lines[i], i, scales);
    }
    for (const CurveLimit& limit : curve.limits) {
        const double y = scales.py(limit.y);
        drawing.svg += rule(kLeft, y, kWidth - kRight, y, kFoul, 1.2, "1.5 3");
        drawing.svg += words(kWidth - kRight, limit.y < 0 ? y + 14 : y - 5, "end", kFoul, limit.words, 11.5);
    }
    for (std::size_t i = 0; i < curve.lines.size(); ++i) {
        drawing.svg += named(curve.lines[i], i, names_from + kRow * static_cast<double>(i));
    }
    drawing.svg += "</svg>\n";
    return drawing;
}

} // namespace evenclose
