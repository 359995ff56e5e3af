#include "checks/print/near_joint.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace evenclose {
namespace {

constexpr double kTight = 0.9;    // of the greatest curvature
constexpr double kStep_mm = 0.5;  // a shift is told to this
constexpr int kFurtherPieces = 3; // nobody cuts a mold into many more than the printer asks for
// Beyond so many pieces along an axis a unit is mistaken, and a shift would help nobody.
constexpr std::size_t kMostJoints = 200;

struct TightPlaces {
    double greatest = 0; // curvature, 1/mm
    bool all_over = false;
    std::vector<Vec3> at_mm;
    std::array<std::vector<double>, 2> along; // X and Y of them, sorted

    /// How far the nearest is from a plane square to the axis.
    [[nodiscard]] double off(int axis, double at) const {
        const std::vector<double>& places = along[static_cast<std::size_t>(axis)];
        const auto above = std::lower_bound(places.begin(), places.end(), at);
        double least = std::numeric_limits<double>::infinity();
        if (above != places.end()) {
            least = *above - at;
        }
        return above != places.begin() ? std::min(least, at - *(above - 1)) : least;
    }
};

TightPlaces tight_places(const BentFace& face) {
    TightPlaces tight;
    std::size_t known = 0, near = 0;
    for (const auto* list : {&face.samples, &face.sharpest}) {
        for (const BendSample& sample : *list) {
            tight.greatest = std::max(tight.greatest, surely_bent(sample.face));
        }
    }
    for (const auto* list : {&face.samples, &face.sharpest}) {
        for (const BendSample& sample : *list) {
            const bool is_tight = sample.face.known && surely_bent(sample.face) >= kTight * tight.greatest;
            if (list == &face.samples) {
                known += sample.face.known ? 1 : 0;
                near += is_tight ? 1 : 0;
            }
            if (is_tight) {
                tight.at_mm.push_back(sample.at_mm);
                tight.along[0].push_back(sample.at_mm.x);
                tight.along[1].push_back(sample.at_mm.y);
            }
        }
    }
    tight.all_over = 2 * near > known;
    for (std::vector<double>& places : tight.along) {
        std::sort(places.begin(), places.end());
    }
    return tight;
}

bool keeps_off(const TightPlaces& tight, int axis, const std::vector<double>& joints, double shift_mm) {
    return std::all_of(joints.begin(), joints.end(),
                       [&](double at) { return tight.off(axis, at + shift_mm) >= kOffTightest_mm; });
}

} // namespace

std::optional<NearJoint> nearest_joint(const BentFace& face, const Box& half, const Pieces& pieces) {
    const TightPlaces tight = tight_places(face);
    if (tight.greatest < 1 / kFlatRadius_mm) {
        return {};
    }
    const PieceJoints joints = joints_of(half, pieces);
    NearJoint near;
    near.off_mm = std::numeric_limits<double>::infinity();
    for (int axis = 0; axis < 2; ++axis) {
        for (const double at : joints[static_cast<std::size_t>(axis)]) {
            if (const double off = tight.off(axis, at); off < near.off_mm) {
                near.axis = axis;
                near.at_mm = at;
                near.off_mm = off;
            }
        }
    }
    if (!std::isfinite(near.off_mm)) {
        return {};
    }
    near.radius_mm = 1 / tight.greatest;
    near.all_over = tight.all_over;
    near.tight_mm = *std::min_element(tight.at_mm.begin(), tight.at_mm.end(), [&](const Vec3& a, const Vec3& b) {
        return std::abs(a[near.axis] - near.at_mm) < std::abs(b[near.axis] - near.at_mm);
    });
    const std::vector<double>& along = joints[static_cast<std::size_t>(near.axis)];
    if (!near.too_near() || along.size() > kMostJoints) {
        return near;
    }
    const double spare = pieces.room_mm[near.axis] - pieces.size_mm[near.axis];
    for (double shift = kStep_mm; shift <= spare && !near.shift_mm; shift += kStep_mm) {
        for (const double way : {shift, -shift}) {
            if (!near.shift_mm && keeps_off(tight, near.axis, along, way)) {
                near.shift_mm = way;
            }
        }
    }
    for (int further = 1; further <= kFurtherPieces && !near.shift_mm && !near.count; ++further) {
        Pieces more = pieces;
        more.count[static_cast<std::size_t>(near.axis)] += further;
        more.size_mm[near.axis] = half.size_mm()[near.axis] / more.count[static_cast<std::size_t>(near.axis)];
        if (keeps_off(tight, near.axis, joints_of(half, more)[static_cast<std::size_t>(near.axis)], 0)) {
            near.count = more.count[static_cast<std::size_t>(near.axis)];
        }
    }
    return near;
}

} // namespace evenclose
