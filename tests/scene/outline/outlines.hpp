// tests/scene/outline/outlines.hpp: what the tests of DXF and SVG ask of an outline.
#pragma once

#include "scene/outline/outermost_line.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <string>

namespace evenclose::test {

inline constexpr double kFine = 0.01;

inline double area(const std::vector<Vec2>& loop) {
    double twice = 0;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        twice += loop[j].x * loop[i].y - loop[i].x * loop[j].y;
    }
    return 0.5 * twice;
}
inline double perimeter(const std::vector<Vec2>& loop) {
    double length = 0;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        length += glm::length(loop[i] - loop[j]);
    }
    return length;
}

/// The outline, or none with the reason told.
inline OutermostLine outermost(const DrawingResult& read, double meet = 0.05) {
    if (const auto* fault = std::get_if<DrawingFault>(&read)) {
        FAIL_CHECK(fault->problem << "; " << fault->allowed);
        return {};
    }
    const auto found = outermost_line(std::get<Drawing>(read), meet);
    if (const auto* fault = std::get_if<DrawingFault>(&found)) {
        FAIL_CHECK(fault->problem << "; " << fault->allowed);
        return {};
    }
    return std::get<OutermostLine>(found);
}
inline std::string why_not(const DrawingResult& read, double meet = 0.05) {
    if (const auto* fault = std::get_if<DrawingFault>(&read)) {
        return fault->problem + "; " + fault->allowed;
    }
    const auto found = outermost_line(std::get<Drawing>(read), meet);
    const auto* fault = std::get_if<DrawingFault>(&found);
    return fault != nullptr ? fault->problem + "; " + fault->allowed : "(read)";
}

/// Corners lie on the true line and chords at most kFine inside it: of an outline that is round everywhere the area is
/// smaller by the perimeter times kFine at most, and never by nothing.
inline void check_area(const OutermostLine& line, double true_area) {
    CAPTURE(true_area);
    CHECK(std::abs(area(line.places) - true_area) <= kFine * perimeter(line.places) + 1e-9 * true_area);
    CHECK(area(line.places) > 0); // counter-clockwise
}

} // namespace evenclose::test
