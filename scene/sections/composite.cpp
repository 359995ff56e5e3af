#include "scene/sections/composite.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace evenclose {

CompositeSection composite_of(std::vector<CompositePart> parts) {
    CompositeSection whole;
    whole.parts = std::move(parts);
    for (const CompositePart& part : whole.parts) {
        const double EA = part.E_MPa * part.section.area_mm2;
        whole.EA_N += EA;
        whole.centroid_mm += EA * part.at_mm;
        whole.GJ_Nmm2 += part.G_MPa * part.section.J_mm4;
        whole.GA_u_N += part.G_MPa * part.section.shear_area_u_mm2;
        whole.GA_v_N += part.G_MPa * part.section.shear_area_v_mm2;
    }
    whole.centroid_mm /= whole.EA_N;
    for (const CompositePart& part : whole.parts) {
        const Vec2 arm = part.at_mm - whole.centroid_mm;
        const SectionProperties& own = part.section;
        whole.EIu_Nmm2 += part.E_MPa * (own.Iu_mm4 + own.area_mm2 * arm.y * arm.y);
        whole.EIv_Nmm2 += part.E_MPa * (own.Iv_mm4 + own.area_mm2 * arm.x * arm.x);
        whole.EIuv_Nmm2 += part.E_MPa * (own.Iuv_mm4 + own.area_mm2 * arm.x * arm.y);
    }
    return whole;
}

double CompositeSection::major_Nmm2() const {
    return 0.5 * (EIu_Nmm2 + EIv_Nmm2) + std::hypot(0.5 * (EIu_Nmm2 - EIv_Nmm2), EIuv_Nmm2);
}
double CompositeSection::minor_Nmm2() const {
    return 0.5 * (EIu_Nmm2 + EIv_Nmm2) - std::hypot(0.5 * (EIu_Nmm2 - EIv_Nmm2), EIuv_Nmm2);
}
double CompositeSection::principal_angle_rad() const {
    // As SectionProperties::principal_angle_rad; what rounding leaves of a symmetrical section's is none.
    const bool symmetrical = std::abs(EIuv_Nmm2) < 1e-12 * (EIu_Nmm2 + EIv_Nmm2);
    if (symmetrical && std::abs(EIu_Nmm2 - EIv_Nmm2) < 1e-12 * (EIu_Nmm2 + EIv_Nmm2)) {
        return 0.0;
    }
    return 0.5 * std::atan2(symmetrical ? 0.0 : -2 * EIuv_Nmm2, EIu_Nmm2 - EIv_Nmm2);
}

double CompositeSection::normal_stress_MPa(std::size_t part, Vec2 fibre_mm, double N, double Mu_Nmm,
                                           double Mv_Nmm) const {
    const Vec2 place = parts[part].at_mm + fibre_mm - centroid_mm;
    const double determinant = EIu_Nmm2 * EIv_Nmm2 - EIuv_Nmm2 * EIuv_Nmm2;
    const double ku = (Mu_Nmm * EIv_Nmm2 - Mv_Nmm * EIuv_Nmm2) / determinant;
    const double kv = (Mv_Nmm * EIu_Nmm2 - Mu_Nmm * EIuv_Nmm2) / determinant;
    return parts[part].E_MPa * (N / EA_N + ku * place.y + kv * place.x);
}

double CompositeSection::greatest_stress_MPa(std::size_t part, double N, double Mu_Nmm, double Mv_Nmm) const {
    double most = 0;
    for (const Vec2 fibre : parts[part].section.fibres_mm) {
        most = std::max(most, std::abs(normal_stress_MPa(part, fibre, N, Mu_Nmm, Mv_Nmm)));
    }
    return most;
}

} // namespace evenclose
