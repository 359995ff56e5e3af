#include "viewer/app/scale_bar.hpp"

#include <glm/geometric.hpp>

#include <array>
#include <cmath>

namespace evenclose {
namespace {

struct Round {
    double mm = 0;
    int parts = 2;
};

std::optional<Round> longest_metric(double most_mm) {
    std::optional<Round> best;
    for (int power = -2; power <= 6; ++power) {
        for (const auto& [times, parts] : {std::pair{1.0, 2}, std::pair{2.0, 2}, std::pair{5.0, 5}}) {
            const double mm = times * std::pow(10.0, power);
            if (mm <= most_mm) {
                best = Round{mm, parts};
            }
        }
    }
    return best;
}

std::optional<Round> longest_inch(double most_mm) {
    struct Inches {
        double in;
        int parts;
    };
    // Fractions as on a rule, then inches, feet and tens of feet.
    constexpr std::array<Inches, 17> kInches{{{1.0 / 64, 1},
                                              {1.0 / 32, 2},
                                              {1.0 / 16, 2},
                                              {1.0 / 8, 2},
                                              {1.0 / 4, 2},
                                              {1.0 / 2, 2},
                                              {1, 2},
                                              {2, 2},
                                              {3, 3},
                                              {6, 3},
                                              {12, 2},
                                              {24, 2},
                                              {36, 3},
                                              {60, 5},
                                              {120, 2},
                                              {600, 5},
                                              {1200, 2}}};
    std::optional<Round> best;
    for (const Inches& each : kInches) {
        if (each.in * kMmPerInch <= most_mm) {
            best = Round{each.in * kMmPerInch, each.parts};
        }
    }
    return best;
}

} // namespace

std::optional<ScaleBar> scale_bar(const Camera& camera, double height_px, double most_px, UnitSystem units) {
    const double distance = glm::length(camera.eye_mm - camera.target_mm);
    const double mm_a_px = 2.0 * distance * std::tan(0.5 * camera.vertical_angle_rad) / height_px;
    if (!(mm_a_px > 0) || !std::isfinite(mm_a_px)) {
        return std::nullopt;
    }
    const auto found =
        units == UnitSystem::metric ? longest_metric(most_px * mm_a_px) : longest_inch(most_px * mm_a_px);
    if (!found) {
        return std::nullopt;
    }
    return ScaleBar{found->mm, found->mm / mm_a_px, found->parts, show_length(found->mm, units),
                    camera.parallel ? "everywhere in this view" : "at the depth of the view's middle"};
}

} // namespace evenclose
