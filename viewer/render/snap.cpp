#include "viewer/render/snap.hpp"

#include "viewer/render/drawable_mesh.hpp"
#include "viewer/render/placed_body.hpp"
#include "viewer/render/ray_pick.hpp"
#include "viewer/render/section_lines.hpp"
#include "viewer/render/view.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

namespace evenclose {
namespace {

// A little nearer than what hides it, a place is on its surface: floats of the ray's hierarchy, and edges seen end on.
constexpr double kSame_mm = 0.05, kSameShare = 2e-4;

/// pixel_of for many places.
class Projection {
public:
    Projection(const Camera& camera, int width, int height)
        : camera_(camera), axes_(eye_axes(camera)), half_width_(0.5 * width), half_height_(0.5 * height),
          tangent_(std::tan(0.5 * camera.vertical_angle_rad)),
          distance_(glm::length(camera.eye_mm - camera.target_mm)) {}

    struct Seen {
        Vec2 px{0.0};
        double depth_mm = 0; // along the sight
        bool before = false; // the eye
    };
    [[nodiscard]] Seen of(const Vec3& place_mm) const {
        const Vec3 from_eye = place_mm - camera_.eye_mm;
        const double depth = -glm::dot(from_eye, axes_.backward);
        const double scale = half_height_ / (tangent_ * (camera_.parallel ? distance_ : depth));
        return {{half_width_ + scale * glm::dot(from_eye, axes_.right),
                 half_height_ - scale * glm::dot(from_eye, axes_.up)},
                depth,
                camera_.parallel || depth > 1e-6};
    }
    [[nodiscard]] bool parallel() const { return camera_.parallel; }

private:
    Camera camera_;
    EyeAxes axes_;
    double half_width_, half_height_, tangent_, distance_;
};

struct Candidate {
    Snapped snapped;
    double away_px = 0;
};

class Search {
public:
    Search(const Frame& frame, int width, int height, Vec2 cursor, double near_px)
        : frame_(frame), seen_(frame.camera, width, height), cursor_(cursor), near_(near_px) {}

    void look_at(const DrawnBody& body) {
        const auto mesh = drawable_of(body.mesh);
        if (mesh->bounds_mm.empty() || !near_box(placed(mesh->bounds_mm, body.pose))) {
            return;
        }
        const Vec3 middle = body.pose.apply(mesh->middle_mm);
        const auto place = [&](const std::array<float, 3>& p) {
            return middle + body.pose.turn(Vec3{p[0], p[1], p[2]});
        };
        for (const DrawableEdge& edge : mesh->edges) {
            along_edge(body.body, place(edge.from), place(edge.to));
        }
        if (frame_.section) {
            const Vec3 normal = glm::normalize(frame_.section->towards);
            const CuttingPlane plane{inverse(body.pose).turn(normal),
                                     glm::dot(normal, frame_.section->through_mm - middle)};
            for (const SectionLine& line : section_lines(mesh->full, plane)) {
                edge_only(body.body, middle + body.pose.turn(line.from_mm), middle + body.pose.turn(line.to_mm));
            }
        }
    }
    /// The nearest first, corners before edges.
    std::vector<Candidate> found() {
        std::sort(candidates_.begin(), candidates_.end(), [](const Candidate& a, const Candidate& b) {
            return a.snapped.to != b.snapped.to ? a.snapped.to > b.snapped.to : a.away_px < b.away_px;
        });
        return std::move(candidates_);
    }

private:
    bool near_box(const Box& box) const {
        Vec2 low{1e300};
        Vec2 high{-1e300};
        for (const Vec3& corner : corners_of(box)) {
            const auto seen = seen_.of(corner);
            if (!seen.before) {
                return true;
            }
            low = glm::min(low, seen.px);
            high = glm::max(high, seen.px);
        }
        return cursor_.x >= low.x - near_ && cursor_.x <= high.x + near_ && cursor_.y >= low.y - near_ &&
               cursor_.y <= high.y + near_;
    }
    /// How far beyond the section's plane, on the side that was taken away.
    double taken_mm(const Vec3& place) const {
        return frame_.section ? glm::dot(place - frame_.section->through_mm, glm::normalize(frame_.section->towards))
                              : -1.0;
    }
    void corner(std::uint32_t body, const Vec3& place) {
        const auto seen = seen_.of(place);
        const double away = glm::length(seen.px - cursor_);
        if (seen.before && away <= near_) {
            candidates_.push_back({{Snapped::To::corner, body, place, Vec3{0.0}}, away});
        }
    }
    void along_edge(std::uint32_t body, Vec3 from, Vec3 to) {
        const double a = taken_mm(from);
        const double b = taken_mm(to);
        if (a > 1e-9 && b > 1e-9) {
            return;
        }
        if (a > 1e-9) { // the part that is kept
            from = from + a / (a - b) * (to - from);
        } else if (b > 1e-9) {
            to = to + b / (b - a) * (from - to);
        }
        if (edge_only(body, from, to)) {
            corner(body, from);
            corner(body, to);
        }
    }
    /// Whether the edge comes near the cursor.
    bool edge_only(std::uint32_t body, const Vec3& from, const Vec3& to) {
        const auto a = seen_.of(from);
        const auto b = seen_.of(to);
        if (!a.before || !b.before) {
            return false;
        }
        const Vec2 way = b.px - a.px;
        const double squared = glm::dot(way, way);
        const double share = squared > 1e-12 ? std::clamp(glm::dot(cursor_ - a.px, way) / squared, 0.0, 1.0) : 0.0;
        const double away = glm::length(a.px + share * way - cursor_);
        if (away > near_) {
            return false;
        }
        // In perspective equal steps on the screen are not equal steps along the edge.
        const double along =
            seen_.parallel() ? share : share * a.depth_mm / (b.depth_mm + share * (a.depth_mm - b.depth_mm));
        candidates_.push_back({{Snapped::To::edge, body, from + along * (to - from), Vec3{0.0}}, away});
        return true;
    }

    const Frame& frame_;
    Projection seen_;
    Vec2 cursor_;
    double near_;
    std::vector<Candidate> candidates_;
};

bool visible(const Frame& frame, int width, int height, const Vec3& place) {
    const auto at = pixel_of(frame.camera, width, height, place);
    if (!at || at->x < 0 || at->y < 0 || at->x > width || at->y > height) {
        return false;
    }
    const auto hit = ray_pick(frame, width, height, at->x, at->y);
    if (!hit) {
        return true; // on a silhouette the ray may slip past
    }
    const Vec3 along = sight_line(frame.camera, width, height, at->x, at->y).along;
    const double before = glm::dot(place - hit->at_mm, along);
    return before <= kSame_mm + kSameShare * glm::length(place - frame.camera.eye_mm);
}

} // namespace

std::optional<Snapped> snap_pick(const Frame& frame, int width, int height, double x, double y, double near_px) {
    if (!(x >= 0 && y >= 0 && x <= width && y <= height) || !view_of(frame.camera, 1.0 * width / height, {})) {
        return std::nullopt;
    }
    if (near_px > 0) {
        Search search(frame, width, height, {x, y}, near_px);
        for (const DrawnBody& body : frame.bodies) {
            if (body.mesh != nullptr) {
                search.look_at(body);
            }
        }
        constexpr std::size_t kTried = 24; // behind a wall there may be thousands
        std::size_t tried = 0;
        for (const Candidate& candidate : search.found()) {
            if (visible(frame, width, height, candidate.snapped.at_mm)) {
                return candidate.snapped;
            }
            if (++tried == kTried) {
                break;
            }
        }
    }
    if (const auto hit = ray_pick(frame, width, height, x, y)) {
        return Snapped{Snapped::To::surface, hit->body, hit->at_mm, hit->normal};
    }
    return std::nullopt;
}

} // namespace evenclose
