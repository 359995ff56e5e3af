#include "checks/cavity/cavity.hpp"

#include "checks/deck.hpp"
#include "checks/mold_half.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace evenclose {
namespace {

// Four samples a square millimetre are as fine as a printed layer is wide (0.4 mm nozzle, common practice, no source).
constexpr double kFinest_mm = 0.5;
// Above so many points of the finding grid it grows coarser: a deck of 1000 x 300 has 1.2 million.
constexpr double kPoints = 2.0e6;

void under_tilt(CavityMeasure& measure, const Assembly& assembly, double tolerance_mm) {
    const Ride& platen = assembly.by_jacks; // pressed, a mold rocks level what only guides hold
    const SlopeRange range = platen.slope_range(assembly.last);
    measure.tilts =
        std::max({std::abs(range.low.x), std::abs(range.low.y), std::abs(range.high.x), std::abs(range.high.y)}) > 0;
    measure.tilted = measure.normal;
    double worst = -1;
    for (const Slope slope : {Slope{range.low.x, range.low.y}, Slope{range.low.x, range.high.y},
                              Slope{range.high.x, range.low.y}, Slope{range.high.x, range.high.y}}) {
        const Mat3 turned = rotation_of(slope);
        const Mat3 back = glm::transpose(measure.to_world.rotation);
        const auto tilt = [&](const Vec3& at_mm) {
            const Vec3 from_pivot =
                measure.to_world.apply(at_mm) - platen.pivot_mm - Vec3{0, 0, closing_lift_mm(assembly)};
            return back * (turned * from_pivot - from_pivot);
        };
        const GapSummary summary = summarise(displaced(measure.map, tilt, {}), tolerance_mm);
        const double reach = std::max(-summary.percentile_mm.front(), summary.percentile_mm.back());
        if (reach > worst) {
            worst = reach;
            measure.worst_slope = slope;
            measure.tilted = summary;
        }
    }
}

} // namespace

CavityMeasure measure_cavity(const Setup& setup, const Assembly& assembly, const CavityRequest& request,
                             Progress& progress) {
    const Mold& mold = *setup.openings.front().mold;
    const double tolerance_mm = setup.limits.cavity_tolerance_mm;
    CavityMeasure measure;
    measure.closed = assembly.closed;
    const Body* lower = half_of(assembly, Part::mold_lower);
    if (lower == nullptr) {
        measure.not_measured = "there is no mold in the press";
        return measure;
    }
    measure.to_world = pose_when_closed(assembly, *lower);
    measure.halves = compare_halves(*mold.lower.mesh, *mold.upper.mesh);
    if (measure.halves.slip != HalfSlip::none) {
        measure.not_measured = "the halves do not belong together as they are";
        return measure;
    }
    progress.tell(0.15);

    const Box below = bounds_of(*mold.lower.mesh);
    const Box above = bounds_of(*mold.upper.mesh);
    const double lift = assembly.shut_height_mm - (above.high_mm.z - below.low_mm.z);
    const SharedMesh upper =
        lift == 0 ? mold.upper.mesh
                  : std::make_shared<const TriangleMesh>(placed(*mold.upper.mesh, Pose{Mat3{1.0}, {0, 0, lift}}));
    const Vec3 shared = glm::min(below.high_mm, above.high_mm) - glm::max(below.low_mm, above.low_mm);
    const double step = std::max(kFinest_mm, std::sqrt(std::max(0.0, shared.x) * std::max(0.0, shared.y) / kPoints));
    const std::vector<Vec2> outline = request.outline_mm.empty() ? deck_outline(mold) : request.outline_mm;
    try {
        measure.faces = std::make_shared<const FacingHalves>(mold.lower.mesh, upper, step, outline);
    } catch (const std::invalid_argument& fault) {
        measure.not_measured = fault.what();
        return measure;
    }
    progress.tell(0.5);
    if (progress.cancelled()) {
        measure.not_measured = "it was stopped";
        return measure;
    }
    GapRequest gaps;
    gaps.stack_mm = mold.stack.pressed_thickness_mm();
    gaps.samples_a_mm2 = request.samples_a_mm2;
    gaps.resolution_mm = 0.25 * tolerance_mm;
    const GapMap rigid = measure.faces->map(gaps);
    measure.map = request.lower || request.upper ? displaced(rigid, request.lower, request.upper) : rigid;
    measure.normal = summarise(measure.map, tolerance_mm);
    measure.stroke = summarise(measure.map, tolerance_mm, Along::stroke);
    if (!(measure.normal.faced_mm2 > 0)) {
        measure.not_measured = "nowhere over the deck do the two forming faces look at each other";
        return measure;
    }
    progress.tell(0.6);
    measure.by_travel = even_out_by_travel(*measure.faces, rigid);
    measure.travelled = summarise(measure.by_travel.map, tolerance_mm);
    // The upper half comes down as the platen goes up.
    measure.best = {assembly.closed.mm - measure.by_travel.by.shift_mm.z};
    progress.tell(0.75);
    measure.by_standing = even_out(*measure.faces, rigid);
    measure.stood = summarise(measure.by_standing.map, tolerance_mm);
    progress.tell(0.9);
    under_tilt(measure, assembly, tolerance_mm);
    progress.tell(1.0);
    return measure;
}

} // namespace evenclose
