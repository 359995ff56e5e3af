#include "scene/press/jack.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenclose {
namespace {

double flank_angle_rad(ThreadForm form) {
    constexpr double kDegree = std::numbers::pi / 180;
    switch (form) {
    case ThreadForm::square:
        return 0;
    case ThreadForm::trapezoidal:
        return 15 * kDegree;
    case ThreadForm::acme:
        return 14.5 * kDegree;
    }
    return 0;
}

/// Mean diameter = major - pitch / 2, for all three forms.
PowerScrew screw_of(const JackThread& thread, double major_diameter_mm) {
    PowerScrew screw;
    screw.major_diameter_mm = major_diameter_mm;
    screw.starts = thread.starts;
    screw.pitch_mm = thread.lead_mm / thread.starts;
    screw.mean_diameter_mm = major_diameter_mm - 0.5 * screw.pitch_mm;
    screw.flank_angle_rad = flank_angle_rad(thread.form);
    screw.thread_friction = thread.friction.value_or(0);
    screw.collar_friction = thread.collar_friction;
    screw.collar_diameter_mm = thread.collar_diameter_mm;
    return screw;
}

double tallest_linkage_mm(const ScissorJack& scissor) {
    return scissor.rhombus() ? 2 * scissor.arm_mm : scissor.stages * scissor.arm_mm;
}
double spread_at_linkage_mm(const ScissorJack& scissor, double height_mm) {
    const double arm = scissor.arm_mm;
    return scissor.rhombus() ? std::sqrt(4 * arm * arm - height_mm * height_mm)
                             : std::sqrt(arm * arm - height_mm * height_mm / (scissor.stages * scissor.stages));
}

HeightLaw law(const Jack&, const ScrewJack& screw) { return ScrewLaw{screw_of(screw.thread, screw.screw_diameter_mm)}; }
HeightLaw law(const Jack& jack, const ScissorJack& scissor) {
    const PowerScrew screw = screw_of(scissor.thread, scissor.screw_diameter_mm);
    const double spread = spread_mm(jack, scissor, 0);
    if (scissor.rhombus()) {
        return RhombusLaw{scissor.arm_mm, spread, scissor.both_ends_threaded, screw};
    }
    return StageLaw{scissor.stages, scissor.arm_mm, spread, screw};
}
HeightLaw law(const Jack&, const CylinderJack& jack) { return CylinderLaw{jack.cylinder}; }
HeightLaw law(const Jack& jack, const HoseJack& hose) { return HoseLaw{hose.hose, jack.closed_height_mm}; }

std::string thread_fault(const JackThread& thread, double screw_diameter_mm) {
    if (thread.starts < 1) {
        return "its screw has no starts";
    }
    // The core is major less pitch; a thread as deep as that leaves none.
    if (thread.lead_mm / thread.starts >= screw_diameter_mm) {
        return "its screw is thinner than its pitch";
    }
    return {};
}

std::string fault(const Jack&, const ScrewJack& screw) { return thread_fault(screw.thread, screw.screw_diameter_mm); }
std::string fault(const Jack& jack, const ScissorJack& scissor) {
    if (std::string thread = thread_fault(scissor.thread, scissor.screw_diameter_mm); !thread.empty()) {
        return thread;
    }
    const double closed = linkage_height_mm(jack, scissor, 0);
    const double tallest = tallest_linkage_mm(scissor);
    if (!(closed > 0)) {
        return fmt::format("foot ({:.4g} mm) and head ({:.4g} mm) leave no height for the links when closed",
                           scissor.base_height_mm, scissor.head_height_mm);
    }
    // Right at the top the links stand upright and the screw lifts nothing more.
    if (!(closed + jack.stroke_mm < tallest)) {
        return fmt::format("its links stand {:.4g} mm high at most, closed height and stroke ask for {:.4g} mm of them",
                           tallest, closed + jack.stroke_mm);
    }
    return {};
}
std::string fault(const Jack&, const CylinderJack& jack) {
    return jack.cylinder.rod_mm < jack.cylinder.bore_mm ? "" : "its rod is not thinner than its bore";
}
std::string fault(const Jack& jack, const HoseJack& hose) {
    // At its free diameter it no longer touches both plates.
    if (!(jack.closed_height_mm + jack.stroke_mm < hose.hose.free_diameter_mm)) {
        return fmt::format("its hose is {:.4g} mm in diameter, closed height and stroke ask for {:.4g} mm",
                           hose.hose.free_diameter_mm, jack.closed_height_mm + jack.stroke_mm);
    }
    return {};
}

} // namespace

const char* name_of(const JackKind& kind) {
    constexpr const char* names[] = {"screw", "scissor", "cylinder", "hose"};
    return names[kind.index()];
}

HeightLaw law_of(const Jack& jack) {
    return std::visit([&](const auto& kind) { return law(jack, kind); }, jack.kind);
}

bool knows_effort(const Jack& jack) {
    if (const auto* screw = std::get_if<ScrewJack>(&jack.kind)) {
        return screw->thread.friction.has_value();
    }
    if (const auto* scissor = std::get_if<ScissorJack>(&jack.kind)) {
        return scissor->thread.friction.has_value();
    }
    return true;
}

std::string fault_of(const Jack& jack) {
    return std::visit([&](const auto& kind) { return fault(jack, kind); }, jack.kind);
}

double linkage_height_mm(const Jack& jack, const ScissorJack& scissor, double out_mm) {
    return jack.closed_height_mm - scissor.base_height_mm - scissor.head_height_mm + out_mm;
}

double head_width_mm(const Jack& jack) {
    struct Width {
        double operator()(const ScrewJack& screw) const { return screw.head_diameter_mm; }
        double operator()(const ScissorJack& scissor) const {
            return std::min(scissor.head_size_mm.x, scissor.head_size_mm.y);
        }
        double operator()(const CylinderJack& cylinder) const { return cylinder.head_diameter_mm; }
        double operator()(const HoseJack& hose) const {
            return std::min(contact_width_mm(hose.hose, closed_height_mm), hose.hose.length_mm);
        }
        double closed_height_mm;
    };
    return std::visit(Width{jack.closed_height_mm}, jack.kind);
}

double spread_mm(const Jack& jack, const ScissorJack& scissor, double out_mm) {
    return spread_at_linkage_mm(scissor, linkage_height_mm(jack, scissor, out_mm));
}

} // namespace evenclose
