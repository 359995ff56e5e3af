#include "checks/outline.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenclose {

bool inside_outline(const std::vector<Vec2>& outline_mm, const Vec2& place_mm) {
    if (outline_mm.empty()) {
        return true;
    }
    bool in = false;
    for (std::size_t i = 0, j = outline_mm.size() - 1; i < outline_mm.size(); j = i++) {
        const Vec2& a = outline_mm[i];
        const Vec2& b = outline_mm[j];
        if ((a.y > place_mm.y) != (b.y > place_mm.y) &&
            place_mm.x < (b.x - a.x) * (place_mm.y - a.y) / (b.y - a.y) + a.x) {
            in = !in;
        }
    }
    return in;
}

double outline_area_mm2(const std::vector<Vec2>& outline_mm) {
    double doubled = 0;
    for (std::size_t i = 0, j = outline_mm.size() - 1; i < outline_mm.size(); j = i++) {
        doubled += outline_mm[j].x * outline_mm[i].y - outline_mm[i].x * outline_mm[j].y;
    }
    return 0.5 * std::abs(doubled);
}

Vec2 outline_centroid_mm(const std::vector<Vec2>& outline_mm) {
    double doubled = 0;
    Vec2 sum{0.0};
    for (std::size_t i = 0, j = outline_mm.size() - 1; i < outline_mm.size(); j = i++) {
        const double cross = outline_mm[j].x * outline_mm[i].y - outline_mm[i].x * outline_mm[j].y;
        doubled += cross;
        sum += cross * (outline_mm[j] + outline_mm[i]);
    }
    return sum / (3 * doubled);
}

double distance_to_outline_mm(const std::vector<Vec2>& outline_mm, const Vec2& place_mm) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0, j = outline_mm.size() - 1; i < outline_mm.size(); j = i++) {
        const Vec2 edge = outline_mm[j] - outline_mm[i];
        const double squared = glm::dot(edge, edge);
        const double along =
            squared > 0 ? std::clamp(glm::dot(place_mm - outline_mm[i], edge) / squared, 0.0, 1.0) : 0.0;
        least = std::min(least, glm::length(place_mm - outline_mm[i] - along * edge));
    }
    return least;
}

} // namespace evenclose
