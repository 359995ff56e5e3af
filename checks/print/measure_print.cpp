#include "checks/print/print.hpp"

#include "checks/deck.hpp"
#include "checks/outline.hpp"
#include "scene/mesh/soundness.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// A part that is as long as the printer goes in to a hundredth of a millimetre.
constexpr double kFits = 1e-5;

int parts(double length_mm, double room_mm) {
    return static_cast<int>(std::min(1e6, std::max(1.0, std::ceil(length_mm / room_mm - kFits))));
}

} // namespace

Pieces pieces_of(const Vec3& half_mm, const Vec3& build_volume_mm) {
    // As it lies first, then turned about Z, then stood on a side or an end.
    constexpr std::array<std::array<int, 3>, 6> kWays{
        {{0, 1, 2}, {1, 0, 2}, {0, 2, 1}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}}};
    Pieces best;
    bool first = true;
    for (const auto& way : kWays) {
        Pieces pieces;
        for (std::size_t axis = 0; axis < 3; ++axis) {
            const auto k = static_cast<int>(axis);
            pieces.count[axis] = parts(half_mm[k], build_volume_mm[way[axis]]);
            pieces.size_mm[k] = half_mm[k] / pieces.count[axis];
        }
        pieces.as_it_lies = first;
        if (first || pieces.all() < best.all()) {
            best = pieces;
        }
        first = false;
    }
    return best;
}

double printed_mass_kg(double volume_mm3, double area_mm2, double wall_mm, double fill, double density_kg_per_m3) {
    const double shell = std::min(volume_mm3, area_mm2 * wall_mm);
    return density_kg_per_m3 * 1e-9 * (shell + fill * (volume_mm3 - shell));
}

PrintMeasure measure_print(const Setup& setup, const Assembly& assembly) {
    PrintMeasure measure;
    const Opening& opening = setup.openings.front();
    const Mold& mold = *opening.mold;
    const DeckPlan deck = deck_plan(setup, opening);
    measure.deck_mm2 =
        mold.deck_outline_mm.empty() ? deck.size_mm.x * deck.size_mm.y : outline_area_mm2(mold.deck_outline_mm);
    for (const auto& jack : setup.press->jacks) {
        measure.force_N += jack.rated_load_N;
    }
    measure.pressure_MPa = measure.deck_mm2 > 0 ? measure.force_N / measure.deck_mm2 : 0;
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
            for (int axis = 0; axis < 3; ++axis) {
                const auto k = static_cast<std::size_t>(axis);
                for (int joint = 1; joint < printed.pieces->count[k]; ++joint) {
                    const double at = printed.box.low_mm[axis] + joint * printed.pieces->size_mm[axis];
                    printed.joints_mm[k].push_back(at);
                    printed.joints_in_deck += axis < 2 && at > low[axis] && at < high[axis] ? 1 : 0;
                }
            }
        }
        measure.halves.push_back(printed);
    }
    return measure;
}

} // namespace evenclose
