#include "checks/frame/mold_bed.hpp"

#include "checks/phrase.hpp"
#include "checks/print/plastic.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

Vec2 plan_of(const MoldHalf& half) { return Vec2{bounds_of(*half.mesh).size_mm()}; }

/// Mean thickness over stiffness, mm a MPa.
double gives(const Mold& mold, const MoldHalf& half, const std::vector<Material>& own) {
    const Vec2 plan = plan_of(half);
    const double area = plan.x * plan.y;
    return area > 0 ? std::abs(signed_volume_mm3(*half.mesh)) / area / half_stiffness(mold, half, own).E_MPa : 0;
}

} // namespace

HalfStiffness half_stiffness(const Mold& mold, const MoldHalf& half, const std::vector<Material>& own) {
    if (const Material* known = find_material(own, half.material)) {
        return {known->E_across_MPa, HalfStiffness::From::material};
    }
    const Plastic* plastic = find_plastic(half.material);
    if (plastic == nullptr || !mold.print || !mold.print->fill) {
        return {kPrintedHalf_MPa, HalfStiffness::From::nothing};
    }
    const Vec2 plan = plan_of(half);
    const double walls = 2 * (plan.x + plan.y) * mold.print->wall_mm.value_or(0);
    return {plastic->stiffness_MPa(*mold.print->fill, std::clamp(walls / (plan.x * plan.y), 0.0, 1.0)),
            HalfStiffness::From::print};
}

double bed_MPa_per_mm(const Mold& mold, const std::vector<Material>& own) {
    double sum = gives(mold, mold.lower, own) + gives(mold, mold.upper, own);
    for (const Ply& ply : mold.stack.plies) {
        const Material* wood = find_material(own, ply.species);
        sum += ply.thickness_mm / (wood != nullptr ? wood->E_across_MPa : kStackAcross_MPa);
    }
    return 1 / std::max(sum, 1e-6);
}

std::string half_stiffness_told(const Mold& mold, const std::vector<Material>& own) {
    const auto told = [&](const char* name, const MoldHalf& half) {
        const HalfStiffness stiff = half_stiffness(mold, half, own);
        const std::string how =
            stiff.from == HalfStiffness::From::material ? fmt::format("as {} does across its grain", half.material)
            : stiff.from == HalfStiffness::From::print
                ? fmt::format("{} filled by {:.0f} %, with its walls", half.material, 100 * *mold.print->fill)
                : std::string("a guess: its plastic or \"fill\" is not told");
        return fmt::format("The {} half is taken as giving like {} along the stroke ({})", name,
                           pressure_mark(std::round(stiff.E_MPa)), how);
    };
    return told("lower", mold.lower) + ". " + told("upper", mold.upper) + ".";
}

} // namespace evenclose
