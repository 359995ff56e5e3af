// checks/report/curve.hpp: a diagram as plain data, and as a drawing: lines over the travel with the limits they are held
// to. Numbers are in the units that are shown.
#pragma once

#include "scene/vec.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct CurveLine {
    std::string name;
    std::vector<std::vector<Vec2>> runs;          // pieces, each drawn through; between two of them nothing is known
    std::vector<Vec2> upper_edge;                 // with one run only: the area between the two is shaded
    std::vector<std::pair<double, double>> fouls; // stretches of x that are drawn heavy at y = 0
    bool dashed = false;
};

struct CurveLimit {
    double y = 0;
    std::string words; // "running clearance 5 mm"
};

struct Curve {
    std::string title;
    std::string reading;          // a sentence that says how to read it
    std::string x_words, y_words; // "travel, mm"
    std::vector<CurveLine> lines;
    std::vector<CurveLimit> limits;
};

struct Drawing {
    std::string svg;           // SVG 1.1, self-contained, text as text
    int width = 0, height = 0; // CSS pixels
};

/// Lines are told apart by dashes and by colours that every colour vision tells apart (M. Okabe & K. Ito, "Color
/// universal design", 2008); their names stand under the diagram, none is cut.
/// Needs: at least one point in all, finite numbers.   Threads: pure, any.
[[nodiscard]] Drawing drawn(const Curve& curve);

/// Steps of a scale: 1, 2 or 5 times a power of ten, so that at most `most` of them span `range`. Needs: range > 0, most > 0.
[[nodiscard]] double scale_step(double range, int most);

} // namespace evenclose
