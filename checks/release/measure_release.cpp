#include "checks/release/release.hpp"

#include "checks/cavity/face_tree.hpp"
#include "checks/cavity/forming_face.hpp"
#include "checks/deck.hpp"
#include "checks/mold_half.hpp"
#include "checks/outline.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace evenclose {
namespace {

// Forming faces are told by a map this fine; a deck of 1000 x 300 has 300 000 points then.
constexpr double kStep_mm = 1.0;
constexpr double kPoints = 2.0e6;
// Half a degree: walls that are meant upright come out of an export or a scan this far off.
constexpr double kLean = 0.0087;
// Printed layers are 0.1 to 0.3 mm (common practice, no source): a lower hollow holds nothing.
constexpr double kHollow_mm = 0.2;
// Beside a wall, so far out in plan, lies what it stands on. Less than a fillet, more than a step of the map.
constexpr double kBeside_mm = 1.5;
// So much area makes a place, less is a stray facet.
constexpr double kPlace_mm2 = 1.0;

// Rays start this far off a facet, above the ray library's rounding.
constexpr double kOff_mm = 1e-3;
// Pieces of a print are glued with less than this between them (common practice, no source).
constexpr double kSeam_mm = 0.5;

using Neighbours = std::vector<std::array<std::uint32_t, 3>>;
constexpr std::uint32_t kNobody = 0xFFFFFFFFU;

/// Across each side of a triangle; kNobody at rims and where more than two meet.
Neighbours neighbours_of(const TriangleMesh& mesh) {
    struct Side {
        std::uint32_t a, b, triangle, which;
    };
    std::vector<Side> sides;
    sides.reserve(3 * mesh.triangles.size());
    for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
        for (std::uint32_t k = 0; k < 3; ++k) {
            const auto [a, b] = std::minmax(mesh.triangles[t][k], mesh.triangles[t][(k + 1) % 3]);
            sides.push_back({a, b, t, k});
        }
    }
    std::sort(sides.begin(), sides.end(), [](const Side& l, const Side& r) {
        return l.a != r.a ? l.a < r.a : l.b != r.b ? l.b < r.b : l.triangle < r.triangle;
    });
    Neighbours neighbours(mesh.triangles.size(), {kNobody, kNobody, kNobody});
    for (std::size_t i = 0; i + 1 < sides.size(); ++i) {
        const bool pair = sides[i].a == sides[i + 1].a && sides[i].b == sides[i + 1].b;
        const bool more = (i + 2 < sides.size() && sides[i + 2].a == sides[i].a && sides[i + 2].b == sides[i].b) ||
                          (i > 0 && sides[i - 1].a == sides[i].a && sides[i - 1].b == sides[i].b);
        if (pair && !more) {
            neighbours[sides[i].triangle][sides[i].which] = sides[i + 1].triangle;
            neighbours[sides[i + 1].triangle][sides[i + 1].which] = sides[i].triangle;
        }
    }
    return neighbours;
}

class Half {
public:
    Half(const TriangleMesh& mesh, double up, const std::vector<Vec2>& outline_mm)
        : mesh_(mesh), up_(up), outline_mm_(outline_mm), outward_(signed_volume_mm3(mesh) < 0 ? -1.0 : 1.0),
          map_(height_map(mesh, grid(mesh), up > 0 ? SeenFrom::above : SeenFrom::below)),
          forming_(forming_face(mesh, map_, up > 0 ? SeenFrom::above : SeenFrom::below)), tree_(mesh) {}

    [[nodiscard]] HalfRelease release(double draft_rad) const {
        HalfRelease result;
        const std::vector<std::uint8_t> face = reached();
        const double wanted = std::sin(draft_rad);
        std::vector<std::pair<double, std::uint32_t>> steep; // lean
        std::vector<std::pair<double, std::uint32_t>> under; // area
        for (std::uint32_t t = 0; t < mesh_.triangles.size(); ++t) {
            if (face[t] == 0) {
                continue;
            }
            const Facet facet = facet_of(t);
            result.seen_mm2 += forming_.forming[t] != 0 ? facet.area_mm2 : 0;
            if (facet.lean < -kLean) {
                under.emplace_back(facet.area_mm2, t);
            } else {
                result.steep_mm2 += facet.lean < wanted ? facet.area_mm2 : 0;
                steep.emplace_back(facet.lean, t);
            }
        }
        least_draft(result, steep);
        undercuts(result, under, wanted);
        return result;
    }

private:
    struct Facet {
        Vec3 middle_mm{0.0}, normal{0.0};
        double area_mm2 = 0;
        double lean = 1; // sine of the angle to the stroke; below 0: looks away
    };

    static PlanGrid grid(const TriangleMesh& mesh) {
        const Box box = bounds_of(mesh);
        const Vec3 size = box.size_mm();
        return grid_over(Vec2(box.low_mm) - Vec2{kBeside_mm}, Vec2(box.high_mm) + Vec2{kBeside_mm},
                         std::max(kStep_mm, std::sqrt(size.x * size.y / kPoints)));
    }

    [[nodiscard]] Facet facet_of(std::uint32_t t) const {
        const TriangleCorners& corners = mesh_.triangles[t];
        const Vec3& a = mesh_.vertices_mm[corners[0]];
        const Vec3& b = mesh_.vertices_mm[corners[1]];
        const Vec3& c = mesh_.vertices_mm[corners[2]];
        const Vec3 across = outward_ * glm::cross(b - a, c - a);
        const double doubled = glm::length(across);
        Facet facet;
        facet.middle_mm = (a + b + c) / 3.0;
        facet.area_mm2 = 0.5 * doubled;
        if (doubled > 0) {
            facet.normal = across / doubled;
            facet.lean = up_ * facet.normal.z;
        }
        return facet;
    }

    /// Another wall stands right before it: the seam of two printed pieces.
    [[nodiscard]] bool against_another(const Facet& facet) const {
        return tree_.first_along(facet.middle_mm + kOff_mm * facet.normal, facet.normal, kSeam_mm).has_value();
    }

    /// Nothing of the half lies beside the place, the way its facet looks: an outer side, or a hole right through.
    [[nodiscard]] bool outer(const Facet& facet) const {
        const double flat = std::hypot(facet.normal.x, facet.normal.y);
        if (flat < 0.1) {
            return false;
        }
        const Vec2 beside = Vec2(facet.middle_mm) + kBeside_mm / flat * Vec2(facet.normal);
        const double column = std::round((beside.x - map_.grid.first_mm.x) / map_.grid.step_mm);
        const double row = std::round((beside.y - map_.grid.first_mm.y) / map_.grid.step_mm);
        if (!(column >= 0 && row >= 0 && column < map_.grid.columns && row < map_.grid.rows)) {
            return true;
        }
        if (!map_.seen(map_.grid.index(static_cast<int>(column), static_cast<int>(row)))) {
            return true;
        }
        return against_another(facet);
    }

    /// The forming face and all that is reached from it over the surface inside the outline, short of outer walls.
    [[nodiscard]] std::vector<std::uint8_t> reached() const {
        const Neighbours neighbours = neighbours_of(mesh_);
        std::vector<std::uint8_t> reached(mesh_.triangles.size(), 0);
        std::vector<std::uint32_t> open;
        const auto inside = [&](std::uint32_t t) { return inside_outline(outline_mm_, Vec2(facet_of(t).middle_mm)); };
        for (std::uint32_t t = 0; t < mesh_.triangles.size(); ++t) {
            if (forming_.forming[t] != 0 && inside(t)) {
                reached[t] = 1;
                open.push_back(t);
            }
        }
        while (!open.empty()) {
            const std::uint32_t t = open.back();
            open.pop_back();
            for (const std::uint32_t beside : neighbours[t]) {
                if (beside == kNobody || reached[beside] != 0 || !inside(beside)) {
                    continue;
                }
                if (!outer(facet_of(beside))) {
                    reached[beside] = 1;
                    open.push_back(beside);
                }
            }
        }
        return reached;
    }

    /// The steepest place of at least a square millimetre.
    void least_draft(HalfRelease& result, std::vector<std::pair<double, std::uint32_t>>& steep) const {
        std::sort(steep.begin(), steep.end());
        double area = 0;
        for (const auto& [lean, t] : steep) {
            const Facet facet = facet_of(t);
            area += facet.area_mm2;
            if (area >= kPlace_mm2) {
                result.least_draft_rad = std::asin(std::clamp(lean, -1.0, 1.0));
                result.steep_at_mm = facet.middle_mm;
                return;
            }
        }
    }

    /// What hangs over more of the half, and how high the hollow is; what hangs over nothing is the back.
    void undercuts(HalfRelease& result, std::vector<std::pair<double, std::uint32_t>>& under, double wanted) const {
        if (under.empty()) {
            return;
        }
        const Vec3 down{0, 0, -up_};
        const double reach = bounds_of(mesh_).size_mm().z + 1;
        for (const auto& [area, t] : under) {
            const Facet facet = facet_of(t);
            const auto met = tree_.first_along(facet.middle_mm + kOff_mm * down, down, reach);
            if (!met || met->along_mm < kHollow_mm || facet_of(met->triangle).lean <= 0) {
                continue;
            }
            result.undercut_mm2 += area;
            if (met->along_mm > result.undercut_high_mm) {
                result.undercut_high_mm = met->along_mm;
                result.undercut_at_mm = facet.middle_mm;
            }
            if (facet.lean > -wanted) {
                result.least_draft_rad = std::min(result.least_draft_rad, std::asin(facet.lean));
            }
        }
    }

    const TriangleMesh& mesh_;
    double up_;
    const std::vector<Vec2>& outline_mm_;
    double outward_;
    HeightMap map_;
    FormingFace forming_;
    FaceTree tree_;
};

} // namespace

HalfRelease release_of(const TriangleMesh& half, double up, const std::vector<Vec2>& outline_mm, double draft_rad) {
    return Half(half, up, outline_mm).release(draft_rad);
}

ReleaseMeasure measure_release(const Setup& setup, const Assembly& assembly, Progress& progress) {
    ReleaseMeasure measure;
    measure.closed = assembly.closed;
    const Body* lower = half_of(assembly, Part::mold_lower);
    const Body* upper = half_of(assembly, Part::mold_upper);
    if (lower == nullptr || upper == nullptr) {
        measure.not_measured = "there is no mold in the press";
        return measure;
    }
    const Mold& mold = *setup.openings.front().mold;
    measure.to_world = {pose_when_closed(assembly, *lower), upper->placement};
    const std::vector<Vec2> outline = deck_outline(mold);
    measure.halves[0] = release_of(*mold.lower.mesh, 1, outline, setup.limits.least_draft_rad);
    progress.tell(0.5);
    if (progress.cancelled()) {
        measure.not_measured = "it was stopped";
        return measure;
    }
    measure.halves[1] = release_of(*mold.upper.mesh, -1, outline, setup.limits.least_draft_rad);
    if (!(measure.halves[0].seen_mm2 > 0 && measure.halves[1].seen_mm2 > 0)) {
        measure.not_measured = "a half has no forming face over the deck";
    }
    progress.tell(1);
    return measure;
}

} // namespace evenclose
