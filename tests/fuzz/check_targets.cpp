// The checks, given meshes that nobody drew: two small ones of any corners and triangles, from 1e-30 to 1e30 mm, degenerate, doubled,
// through themselves; one rides and may tilt.
//
// Bytes are read as choices, so that whatever is changed in them is again two meshes and a ride.
#include "checks/clearance/first_contact.hpp"
#include "checks/clearance/sweep.hpp"
#include "checks/clearance/triangle_distance.hpp"
#include "scene/mesh/self_intersection.hpp"
#include "scene/mesh/soundness.hpp"
#include "tests/fuzz/targets.hpp"

#include <tbb/global_control.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <memory>
#include <stdexcept>

namespace evenclose::test {
namespace {

/// Choices in the order they are asked for; nought after the last.
class Choices {
public:
    explicit Choices(std::string_view bytes) : bytes_(bytes) {}
    std::uint32_t below(std::uint32_t count) {
        const std::uint32_t byte = at_ < bytes_.size() ? static_cast<unsigned char>(bytes_[at_++]) : 0;
        return byte % count;
    }
    /// Quarters of a millimetre to 16 mm, mostly; now and then what no mold measures.
    double coordinate_mm() {
        constexpr std::array<double, 16> odd{
            0,   1e-30,     -1e-30, 1e-9, -1e-9, 1e-4, 1e4,   -1e4,
            1e5, 1.0 / 3.0, 5e-324, 1e8,  -1e8,  1e30, -1e30, std::numeric_limits<double>::quiet_NaN()};
        const std::uint32_t byte = below(256);
        return byte < 128                ? 0.25 * static_cast<double>(byte) - 16.0
               : byte < 128 + odd.size() ? odd[byte - 128]
                                         : 0.25 * static_cast<double>(byte - 128) + 1e-3 * below(256);
    }

private:
    std::string_view bytes_;
    std::size_t at_ = 0;
};

TriangleMesh mesh_of(Choices& choices) {
    TriangleMesh mesh;
    const std::uint32_t corners = 1 + choices.below(12);
    for (std::uint32_t i = 0; i < corners; ++i) {
        const double x = choices.coordinate_mm();
        const double y = choices.coordinate_mm();
        mesh.vertices_mm.emplace_back(x, y, choices.coordinate_mm());
    }
    const std::uint32_t triangles = choices.below(16);
    for (std::uint32_t i = 0; i < triangles; ++i) {
        // One in a while names a corner that is not there.
        const std::uint32_t a = choices.below(corners);
        const std::uint32_t b = choices.below(corners);
        mesh.triangles.push_back({a, b, choices.below(64) == 63 ? corners : choices.below(corners)});
    }
    return mesh;
}

bool within(const TriangleMesh& mesh, double farthest_mm) {
    return std::all_of(mesh.vertices_mm.begin(), mesh.vertices_mm.end(), [farthest_mm](const Vec3& v) {
        return std::max({std::abs(v.x), std::abs(v.y), std::abs(v.z)}) <= farthest_mm;
    });
}

/// Where the arithmetic of a press is exact enough to hold the bounds to a micrometre.
bool as_large_as_a_press(const TriangleMesh& mesh) { return within(mesh, 1e5); }

bool sound(const TriangleMesh& mesh) {
    return !mesh.empty() && std::all_of(mesh.vertices_mm.begin(), mesh.vertices_mm.end(), [](const Vec3& v) {
        return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z);
    }) && std::all_of(mesh.triangles.begin(), mesh.triangles.end(), [&](const TriangleCorners& c) {
        return std::max({c[0], c[1], c[2]}) < mesh.vertices_mm.size();
    });
}

/// Each triangle with each.
double distance_mm(const TriangleMesh& first, const TriangleMesh& second, const Pose& second_at) {
    double least = std::numeric_limits<double>::infinity();
    for (const TriangleCorners& a : first.triangles) {
        for (const TriangleCorners& b : second.triangles) {
            Triangle left{};
            Triangle right{};
            for (std::size_t i = 0; i < 3; ++i) {
                left[i] = first.vertices_mm[a[i]];
                right[i] = second_at.apply(second.vertices_mm[b[i]]);
            }
            least = std::min(least, nearest_points(left, right).distance);
        }
    }
    return least;
}

SharedClearanceMesh prepared(const TriangleMesh& mesh) {
    try {
        return prepare(std::make_shared<const TriangleMesh>(mesh));
    } catch (const std::invalid_argument&) {
        promise(!sound(mesh) || !within(mesh, 1e6)); // a kilometre
        return nullptr;
    }
}

void promise_in_order(const Sweep& swept, const SweepRequest& request) {
    double reached = request.from.mm;
    for (const ClearanceSpan& span : swept.spans) {
        promise(span.from.mm == reached && span.to.mm >= span.from.mm);
        promise(span.lower_mm >= 0 && span.lower_mm <= span.upper_mm);
        reached = span.to.mm;
    }
    promise(swept.spans.empty() || reached == request.to.mm);
}

void sweeps(std::string_view bytes) {
    // What is small is done sooner by one thread than dealt out to several; the answer is the same.
    const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
    Choices choices(bytes);
    const TriangleMesh still = mesh_of(choices);
    const TriangleMesh rides = mesh_of(choices);
    for (const TriangleMesh* mesh : {&still, &rides}) {
        if (sound(*mesh)) {
            const Soundness like = soundness_of(*mesh);
            promise(!like.shells.empty());
            promise(self_intersections(*mesh).count <= mesh->triangles.size() * mesh->triangles.size());
        }
    }
    const SharedClearanceMesh first = prepared(still);
    const SharedClearanceMesh second = prepared(rides);
    if (!first || !second) {
        return;
    }
    Ride ride;
    SweepRequest request;
    request.to = {0.5 * choices.below(64)};
    request.interest_mm = choices.below(2) == 0 ? 25 : 1;
    request.budget = 500; // bounds that are wider than asked must be true, too
    const double tilt = 0.002 * choices.below(8);
    const double lift = 0.25 * choices.below(128);
    ride.knots = {{{0}, 0, {}}, {request.to, lift, {{-tilt, 0}, {tilt, 0.5 * tilt}}}};
    const SweptBody a{first, {}, nullptr};
    const SweptBody b{second, {Mat3(1.0), {0, 0, choices.coordinate_mm()}}, &ride};
    Progress progress;
    const Sweep swept = sweep(a, b, request, progress);
    promise_in_order(swept, request);
    const FirstContact contact = first_contact(a, b, request, progress);
    if (!std::isfinite(b.placement.translation_mm.z) || !as_large_as_a_press(still) || !as_large_as_a_press(rides) ||
        std::abs(b.placement.translation_mm.z) > 1e5) {
        return;
    }
    // None of the bounds may lie above what is there, at any travel and any slope.
    constexpr double kRounding_mm = 1e-6;
    for (int i = 0; i <= 4; ++i) {
        const Travel at{request.to.mm * i / 4};
        const SlopeRange slopes = ride.slope_range(at);
        for (const Slope slope : {slopes.low, slopes.high, slopes.middle()}) {
            const double there = distance_mm(still, rides, pose_at(ride, b.placement, at, slope));
            for (const ClearanceSpan& span : swept.spans) {
                promise(at < span.from || at > span.to || span.lower_mm <= there + kRounding_mm);
            }
            promise(there > kRounding_mm || at.mm >= contact.clear_until.mm - kRounding_mm);
            const PoseClearance told = clearance_at(a, b, at, slope, request.interest_mm, 0.01);
            promise(told.contact == Contact::not_checked || told.distance_mm <= there + 0.01 + kRounding_mm);
            if (there == 0) {
                (void)triangles_in_contact(a, b, at, slope);
            }
        }
    }
}

constexpr std::array<FuzzTarget, 1> kTargets{{{"sweep", sweeps}}};

} // namespace

std::span<const FuzzTarget> fuzz_targets() { return kTargets; }

} // namespace evenclose::test
