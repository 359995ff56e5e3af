#include "checks/seat/registration.hpp"

#include "scene/kept_for.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <mutex>
#include <numeric>
#include <optional>
#include <utility>

namespace evenclose {
namespace {

// Upright within 3 degrees: printed pins get a little draft.
const double kUpright = std::sin(3.0 * 3.14159265358979323846 / 180.0);
constexpr double kLeast_mm = 2.0;
constexpr double kMost_mm = 60.0;
// Off the circle by so much of the radius at most, and what a coarse export rounds: else it is no cylinder.
constexpr double kRound = 0.04;
constexpr double kRounding_mm = 0.05;
// All the way round: corners in each of so many sectors (a hexagon has six corners).
constexpr int kSectors = 6;

class Groups {
public:
    explicit Groups(std::size_t count) : parent_(count) { std::iota(parent_.begin(), parent_.end(), 0U); }
    std::uint32_t of(std::uint32_t i) {
        while (parent_[i] != i) {
            i = parent_[i] = parent_[parent_[i]];
        }
        return i;
    }
    void join(std::uint32_t a, std::uint32_t b) {
        a = of(a);
        b = of(b);
        parent_[std::max(a, b)] = std::min(a, b);
    }

private:
    std::vector<std::uint32_t> parent_;
};

struct Upright {
    std::uint32_t triangle;
    Vec3 middle_mm, across; // twice the area along the outward normal
};

std::vector<Upright> upright_ones(const TriangleMesh& half) {
    const double outward = signed_volume_mm3(half) < 0 ? -1 : 1;
    std::vector<Upright> result;
    for (std::uint32_t t = 0; t < half.triangles.size(); ++t) {
        const Vec3& a = half.vertices_mm[half.triangles[t][0]];
        const Vec3& b = half.vertices_mm[half.triangles[t][1]];
        const Vec3& c = half.vertices_mm[half.triangles[t][2]];
        const Vec3 across = outward * glm::cross(b - a, c - a);
        const double length = glm::length(across);
        if (length > 0 && std::abs(across.z) < kUpright * length) {
            result.push_back({t, (a + b + c) / 3.0, across});
        }
    }
    return result;
}

/// Upright triangles that hang together by an edge.
std::vector<std::vector<Upright>> hanging_together(const TriangleMesh& half, const std::vector<Upright>& upright) {
    struct Side {
        std::uint32_t a, b, which;
    };
    std::vector<Side> sides;
    for (std::uint32_t i = 0; i < upright.size(); ++i) {
        const TriangleCorners& corners = half.triangles[upright[i].triangle];
        for (std::size_t k = 0; k < 3; ++k) {
            const auto [a, b] = std::minmax(corners[k], corners[(k + 1) % 3]);
            sides.push_back({a, b, i});
        }
    }
    std::sort(sides.begin(), sides.end(), [](const Side& l, const Side& r) {
        return l.a != r.a ? l.a < r.a : l.b != r.b ? l.b < r.b : l.which < r.which;
    });
    Groups groups(upright.size());
    for (std::size_t i = 0; i + 1 < sides.size(); ++i) {
        if (sides[i].a == sides[i + 1].a && sides[i].b == sides[i + 1].b) {
            groups.join(sides[i].which, sides[i + 1].which);
        }
    }
    std::vector<std::vector<Upright>> result(upright.size());
    for (std::uint32_t i = 0; i < upright.size(); ++i) {
        result[groups.of(i)].push_back(upright[i]);
    }
    std::erase_if(result, [](const std::vector<Upright>& group) { return group.empty(); });
    return result;
}

std::optional<RoundFeature> fitted(const TriangleMesh& half, const std::vector<Upright>& group) {
    Box box;
    for (const Upright& each : group) {
        for (const std::uint32_t corner : half.triangles[each.triangle]) {
            box.add(half.vertices_mm[corner]);
        }
    }
    const Vec3 size = box.size_mm();
    if (std::max(size.x, size.y) > 1.1 * kMost_mm || std::min(size.x, size.y) < 0.5 * kLeast_mm) {
        return std::nullopt;
    }
    const Vec2 middle{box.centre_mm()};
    Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    for (const Upright& each : group) {
        for (const std::uint32_t corner : half.triangles[each.triangle]) {
            const Vec2 p = Vec2(half.vertices_mm[corner]) - middle;
            const Eigen::Vector3d row{p.x, p.y, 1};
            normal += row * row.transpose();
            right += row * glm::dot(p, p);
        }
    }
    const Eigen::LDLT<Eigen::Matrix3d> solver(normal);
    if (solver.info() != Eigen::Success || !(solver.vectorD().minCoeff() > 1e-9)) {
        return std::nullopt;
    }
    const Eigen::Vector3d circle = solver.solve(right);
    const Vec2 centre{0.5 * circle[0], 0.5 * circle[1]};
    const double radius = std::sqrt(std::max(0.0, circle[2] + glm::dot(centre, centre)));
    if (!(2 * radius >= kLeast_mm && 2 * radius <= kMost_mm)) {
        return std::nullopt;
    }
    std::array<bool, kSectors> seen{};
    double outward = 0;
    for (const Upright& each : group) {
        for (const std::uint32_t corner : half.triangles[each.triangle]) {
            const Vec2 p = Vec2(half.vertices_mm[corner]) - middle - centre;
            if (std::abs(glm::length(p) - radius) > kRound * radius + kRounding_mm) {
                return std::nullopt;
            }
            const double turn = (std::atan2(p.y, p.x) / (2 * 3.14159265358979323846) + 1) * kSectors;
            seen[static_cast<std::size_t>(turn) % kSectors] = true;
        }
        outward += glm::dot(Vec2(each.across), Vec2(each.middle_mm) - middle - centre);
    }
    if (std::find(seen.begin(), seen.end(), false) != seen.end()) {
        return std::nullopt;
    }
    return RoundFeature{middle + centre, 2 * radius, box.low_mm.z, box.high_mm.z, outward > 0};
}

} // namespace

std::vector<RoundFeature> round_features(const TriangleMesh& half) {
    std::vector<RoundFeature> features;
    for (const std::vector<Upright>& group : hanging_together(half, upright_ones(half))) {
        if (const auto feature = fitted(half, group)) {
            features.push_back(*feature);
        }
    }
    return features;
}

std::shared_ptr<const std::vector<RoundFeature>> round_features_of(const SharedMesh& half) {
    using Features = std::shared_ptr<const std::vector<RoundFeature>>;
    static std::mutex guard;
    static KeptFor<TriangleMesh, Features> kept;
    {
        const std::scoped_lock lock(guard);
        kept.forget_gone();
        if (const Features* found = kept.find(half)) {
            return *found;
        }
    }
    // Found outside the lock: another thread may find the same meanwhile, and finds the same.
    auto features = std::make_shared<const std::vector<RoundFeature>>(round_features(*half));
    const std::scoped_lock lock(guard);
    return kept.keep(half, std::move(features));
}

std::vector<PinMeeting> meetings(const TriangleMesh& lower, const TriangleMesh& upper) {
    const std::array<std::vector<RoundFeature>, 2> features{round_features(lower), round_features(upper)};
    const double middle_z = 0.5 * (bounds_of(lower).centre_mm().z + bounds_of(upper).centre_mm().z);
    std::vector<PinMeeting> result;
    for (const bool of_upper : {false, true}) {
        for (const RoundFeature& pin : features[of_upper ? 1 : 0]) {
            // A foot or a boss on the back looks the other way.
            const double up = of_upper ? -1 : 1;
            const double tip = of_upper ? pin.from_z_mm : pin.to_z_mm;
            const Box own = bounds_of(of_upper ? upper : lower);
            const double back = of_upper ? own.high_mm.z : own.low_mm.z;
            const bool at_the_back = std::abs(tip - middle_z) > std::abs(back - middle_z);
            if (!pin.pin || at_the_back || (of_upper ? pin.to_z_mm : pin.from_z_mm) == back) {
                continue;
            }
            PinMeeting meeting;
            meeting.pin = pin;
            meeting.of_upper = of_upper;
            double nearest = 0.75 * pin.diameter_mm;
            for (const RoundFeature& hole : features[of_upper ? 0 : 1]) {
                const double off = glm::length(hole.centre_mm - pin.centre_mm);
                if (!hole.pin && off < nearest) {
                    nearest = off;
                    meeting.met = true;
                    meeting.hole = hole;
                }
            }
            if (meeting.met) {
                meeting.off_mm = nearest;
                meeting.clearance_mm = 0.5 * (meeting.hole.diameter_mm - pin.diameter_mm);
                meeting.room_mm = up * ((of_upper ? meeting.hole.from_z_mm : meeting.hole.to_z_mm) - tip);
            }
            result.push_back(meeting);
        }
    }
    return result;
}

} // namespace evenclose
