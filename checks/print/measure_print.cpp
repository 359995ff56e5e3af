#include "checks/print/print.hpp"

#include "checks/deck.hpp"
#include "scene/mesh/soundness.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// Half as tight as plies are planned with, which is one and a half times the radius they break at (as in `bend`): there a
// joint is pressed through, on gentler faces it is sanded off with the rest (common practice, no source).
constexpr double kBentHard = 0.5 / 1.5;

} // namespace

double printed_mass_kg(double volume_mm3, double area_mm2, double wall_mm, double fill, double density_kg_per_m3) {
    const double shell = std::min(volume_mm3, area_mm2 * wall_mm);
    return density_kg_per_m3 * 1e-9 * (shell + fill * (volume_mm3 - shell));
}

PrintMeasure measure_print(const Setup& setup, const Assembly& assembly, const PressureMeasure& pressure,
                           const BendMeasure& bend) {
    PrintMeasure measure;
    const Mold& mold = *setup.openings.front().mold;
    measure.deck_mm2 = pressure.area_mm2;
    measure.force_N = pressure.force_N;
    measure.stated = pressure.stated;
    measure.pressure_MPa = pressure.mean_MPa;
    measure.closed = bend.closed;
    const std::vector<Vec2> outline = deck_outline(mold);
    for (const Part part : {Part::mold_lower, Part::mold_upper}) {
        const MoldHalf& half = part == Part::mold_lower ? mold.lower : mold.upper;
        if (!std::holds_alternative<MeshHalf>(half.shape)) {
            continue;
        }
        PrintedHalf printed;
        for (const Body& body : assembly.bodies) {
            if (body.part == part) {
                printed.name = body.name;
            }
        }
        printed.box = bounds_of(*half.mesh);
        printed.material = half.material;
        printed.plastic = find_plastic(half.material);
        const Soundness soundness = soundness_of(*half.mesh);
        printed.closed = soundness.closed() && soundness.oriented();
        printed.volume_mm3 = std::abs(signed_volume_mm3(*half.mesh));
        printed.area_mm2 = surface_area_mm2(*half.mesh);
        if (printed.closed && printed.plastic != nullptr && mold.print && mold.print->fill && mold.print->wall_mm) {
            printed.mass_kg = printed_mass_kg(printed.volume_mm3, printed.area_mm2, *mold.print->wall_mm,
                                              *mold.print->fill, printed.plastic->density_kg_per_m3);
        }
        if (mold.print && mold.print->build_volume_mm) {
            printed.pieces = pieces_of(printed.box.size_mm(), *mold.print->build_volume_mm);
            Vec2 low{printed.box.low_mm};
            Vec2 high{printed.box.high_mm};
            if (!outline.empty()) {
                low = high = outline.front();
                for (const Vec2& corner : outline) {
                    low = glm::min(low, corner);
                    high = glm::max(high, corner);
                }
            }
            printed.joints_mm = joints_of(printed.box, *printed.pieces);
            for (int axis = 0; axis < 2; ++axis) {
                for (const double at : printed.joints_mm[static_cast<std::size_t>(axis)]) {
                    printed.joints_in_deck += at > low[axis] && at < high[axis] ? 1 : 0;
                }
            }
            if (bend.not_measured.empty()) {
                const bool of_lower = part == Part::mold_lower;
                printed.near = nearest_joint(of_lower ? bend.lower : bend.upper, printed.box, *printed.pieces);
                for (const auto& ply : {bend.with_grain, bend.across_grain}) {
                    printed.bent_hard = printed.bent_hard || (ply && ply->use() >= kBentHard);
                }
                if (printed.near) {
                    printed.near_at_mm =
                        (of_lower ? bend.lower_to_world : bend.upper_to_world).apply(printed.near->tight_mm);
                }
            }
        }
        measure.halves.push_back(printed);
    }
    return measure;
}

} // namespace evenclose
