#include "checks/frame/frame_member.hpp"

#include "scene/press/built_up.hpp"
#include "scene/press/member_solid.hpp"
#include "scene/sections/section_properties.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

constexpr double kGravity = 9.80665; // N a kg
constexpr double kKgPerMm3 = 1e-9;   // from kg/m3
// Nodes closer than this along a member are one: a beam between them would be all rounding.
constexpr double kSameNode_mm = 1.0;
// Beams are exact however long; this is for how the bent frame is drawn and where stresses are looked at.
constexpr double kLongestBeam_mm = 260;

/// Stands in for a material that is not known: soft timber for timber, mild steel for shapes that only steel has.
const Material& stand_in(const Section& section) {
    return *find_material({}, std::holds_alternative<TimberSection>(section) ? "C24" : "S235");
}

std::vector<double> nodes_along(std::vector<double> stations_mm, double length_mm) {
    std::sort(stations_mm.begin(), stations_mm.end());
    std::vector<double> apart;
    for (const double at : stations_mm) {
        if (apart.empty() || at - apart.back() > kSameNode_mm) {
            apart.push_back(at);
        }
    }
    apart.back() = std::max(apart.back(), length_mm); // the end itself, if a joint lies within a millimetre of it
    std::vector<double> finer{apart.front()};
    for (std::size_t k = 1; k < apart.size(); ++k) {
        const double step = apart[k] - apart[k - 1];
        const int pieces = std::max(1, static_cast<int>(std::ceil(step / kLongestBeam_mm)));
        for (int p = 1; p <= pieces; ++p) {
            finer.push_back(apart[k - 1] + step * p / pieces);
        }
    }
    return finer;
}

} // namespace

bool FrameMember::known() const {
    return std::all_of(parts.begin(), parts.end(), [](const FrameMemberPart& part) { return part.known; });
}

FrameMember frame_member(const Member& member, const std::vector<Material>& own) {
    FrameMember result;
    std::vector<CompositePart> composite;
    for (const BuiltUpPart& part : parts_of(member.section)) {
        const std::string& word = material_of(part, member);
        const Material* material = find_material(own, word);
        const Material& taken = material != nullptr ? *material : stand_in(part.section);
        const SectionProperties section = *properties_of(part.section, taken.wall_factor);
        composite.push_back({section, part.at_mm + section.centroid_mm, taken.E_MPa, taken.G_MPa});
        if (!result.parts.empty() && section.area_mm2 > composite[result.main].section.area_mm2) {
            result.main = result.parts.size();
        }
        result.parts.push_back({taken, word, material != nullptr});
    }
    if (!composite.empty()) {
        result.whole = composite_of(std::move(composite));
        result.principal_rad = result.whole.principal_angle_rad();
    }
    return result;
}

void add_beams(SpaceFrame& frame, FrameMember& part, const Member& member, std::vector<double> stations_mm,
               double stiffening) {
    part.at_mm = nodes_along(std::move(stations_mm), glm::distance(member.a_mm, member.b_mm));
    const Pose pose = frame_of(member);
    const Vec3 u = pose.rotation[0];
    const Vec3 v = pose.rotation[1];
    const Vec3 axis = pose.rotation[2];
    const CompositeSection& s = part.whole;
    const double c = std::cos(part.principal_rad);
    const double n = std::sin(part.principal_rad);
    const double k = stiffening;
    double kg_per_m_e3 = 0; // kg/m3 times mm2
    for (std::size_t i = 0; i < part.parts.size(); ++i) {
        kg_per_m_e3 += part.parts[i].material.density_kg_per_m3 * s.parts[i].section.area_mm2;
    }
    FrameBeam beam;
    beam.y_axis = c * u + n * v;
    beam.stiffness.EA_N = k * s.EA_N;
    beam.stiffness.EIy_Nmm2 = k * s.major_Nmm2();
    beam.stiffness.EIz_Nmm2 = k * s.minor_Nmm2();
    beam.stiffness.GJ_Nmm2 = k * s.GJ_Nmm2;
    beam.stiffness.GAy_N = k * (c * c * s.GA_u_N + n * n * s.GA_v_N);
    beam.stiffness.GAz_N = k * (n * n * s.GA_u_N + c * c * s.GA_v_N);
    beam.arm_a_mm = beam.arm_b_mm = s.centroid_mm.x * u + s.centroid_mm.y * v;
    beam.load_N_per_mm = {0, 0, -k * kg_per_m_e3 * kKgPerMm3 * kGravity};
    for (const double at : part.at_mm) {
        part.nodes.push_back(frame.nodes.size());
        frame.nodes.push_back({member.a_mm + at * axis, kFree});
    }
    for (std::size_t p = 0; p + 1 < part.nodes.size(); ++p) {
        beam.a = part.nodes[p];
        beam.b = part.nodes[p + 1];
        part.beams.push_back(frame.beams.size());
        frame.beams.push_back(beam);
    }
}

} // namespace evenclose
