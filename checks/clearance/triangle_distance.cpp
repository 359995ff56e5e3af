#include "checks/clearance/triangle_distance.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenclose {
namespace {

enum class Case { none, corner_of_b_on_face_a, corner_of_a_on_face_b, edges, ends };

struct Best {
    double squared = std::numeric_limits<double>::infinity();
    Vec3 on_a{0.0}, on_b{0.0};
    Case how = Case::none;
    std::size_t edge_a = 0, edge_b = 0;
};

struct Face {
    explicit Face(const Triangle& t)
        : corner(t), edge{t[1] - t[0], t[2] - t[1], t[0] - t[2]}, normal(glm::cross(edge[0], edge[1])),
          normal_squared(glm::dot(normal, normal)) {
        const double longest =
            std::max({glm::dot(edge[0], edge[0]), glm::dot(edge[1], edge[1]), glm::dot(edge[2], edge[2])});
        // A sliver thinner than this has no trustworthy normal; its edges answer for it.
        flat = normal_squared > 1e-24 * longest * longest;
    }
    [[nodiscard]] bool over(const Vec3& point) const {
        return glm::dot(glm::cross(edge[0], point - corner[0]), normal) >= 0 &&
               glm::dot(glm::cross(edge[1], point - corner[1]), normal) >= 0 &&
               glm::dot(glm::cross(edge[2], point - corner[2]), normal) >= 0;
    }
    const Triangle& corner;
    Vec3 edge[3];
    Vec3 normal;
    double normal_squared;
    bool flat = false;
};

/// Does an edge of `other` go through the face? Its corners' heights are in units of the face's normal.
bool edge_goes_through(const Face& face, const Face& other, const double (&height)[3], Vec3& where) {
    for (std::size_t i = 0; i < 3; ++i) {
        const std::size_t j = (i + 1) % 3;
        if ((height[i] < 0) != (height[j] < 0)) {
            const double share = height[i] / (height[i] - height[j]);
            const Vec3 point = other.corner[i] + share * other.edge[i];
            if (face.over(point)) {
                where = point;
                return true;
            }
        }
    }
    return false;
}

void try_edges(const Face& a, std::size_t i, const Face& b, std::size_t j, Best& best) {
    const Vec3 between = a.corner[i] - b.corner[j];
    const Vec3& da = a.edge[i];
    const Vec3& db = b.edge[j];
    const double aa = glm::dot(da, da);
    const double bb = glm::dot(db, db);
    const double ab = glm::dot(da, db);
    const double ar = glm::dot(da, between);
    const double br = glm::dot(db, between);
    const double denominator = aa * bb - ab * ab;
    double s = denominator > 1e-14 * aa * bb ? std::clamp((ab * br - ar * bb) / denominator, 0.0, 1.0) : 0.0;
    double t = bb > 0 ? (ab * s + br) / bb : 0.0;
    if (t < 0 || t > 1 || bb == 0) { // beyond an end, or an edge that is a point: from there back to the other edge
        t = std::clamp(t, 0.0, 1.0);
        s = aa > 0 ? std::clamp((ab * t - ar) / aa, 0.0, 1.0) : 0.0;
    }
    const Vec3 apart = between + s * da - t * db;
    const double squared = glm::dot(apart, apart);
    if (squared < best.squared) {
        best.squared = squared;
        best.on_a = a.corner[i] + s * da;
        best.on_b = b.corner[j] + t * db;
        best.how = s > 0 && s < 1 && t > 0 && t < 1 ? Case::edges : Case::ends;
        best.edge_a = i;
        best.edge_b = j;
    }
}

} // namespace

NearestPoints nearest_points(const Triangle& ta, const Triangle& tb) {
    const Face a(ta);
    const Face b(tb);
    NearestPoints result;
    Best best;
    if (a.flat) {
        const double height[3] = {glm::dot(a.normal, tb[0] - ta[0]), glm::dot(a.normal, tb[1] - ta[0]),
                                  glm::dot(a.normal, tb[2] - ta[0])};
        for (std::size_t i = 0; i < 3; ++i) {
            const double squared = height[i] * height[i] / a.normal_squared;
            if (squared < best.squared && a.over(tb[i])) {
                best = {squared, tb[i] - height[i] / a.normal_squared * a.normal, tb[i], Case::corner_of_b_on_face_a, 0,
                        0};
            }
        }
        if (edge_goes_through(a, b, height, result.on_a)) {
            result.on_b = result.on_a;
            return result;
        }
    }
    if (b.flat) {
        const double height[3] = {glm::dot(b.normal, ta[0] - tb[0]), glm::dot(b.normal, ta[1] - tb[0]),
                                  glm::dot(b.normal, ta[2] - tb[0])};
        for (std::size_t i = 0; i < 3; ++i) {
            const double squared = height[i] * height[i] / b.normal_squared;
            if (squared < best.squared && b.over(ta[i])) {
                best = {squared, ta[i], ta[i] - height[i] / b.normal_squared * b.normal, Case::corner_of_a_on_face_b,
                        0,       0};
            }
        }
        if (edge_goes_through(b, a, height, result.on_a)) {
            result.on_b = result.on_a;
            return result;
        }
    }
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t j = 0; j < 3; ++j) {
            try_edges(a, i, b, j, best);
        }
    }
    result.on_a = best.on_a;
    result.on_b = best.on_b;
    const Vec3 apart = best.on_b - best.on_a;
    result.distance = glm::length(apart);
    // The direction from the features rather than from the points: it stays sharp when the gap is all but nothing.
    Vec3 along = apart;
    if (best.how == Case::corner_of_b_on_face_a) {
        along = a.normal;
    } else if (best.how == Case::corner_of_a_on_face_b) {
        along = b.normal;
    } else if (best.how == Case::edges) {
        const Vec3 across = glm::cross(a.edge[best.edge_a], b.edge[best.edge_b]);
        if (glm::dot(across, across) > 1e-12 * glm::dot(a.edge[best.edge_a], a.edge[best.edge_a]) *
                                           glm::dot(b.edge[best.edge_b], b.edge[best.edge_b])) {
            along = across;
        }
    }
    const double length = glm::length(along);
    if (length > 0) {
        result.direction = along * ((glm::dot(along, apart) < 0 ? -1.0 : 1.0) / length);
    }
    return result;
}

} // namespace evenclose
