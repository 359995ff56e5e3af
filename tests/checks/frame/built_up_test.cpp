// Built-up members in a press: the transformed section (REFERENCE 5.11, 5.12) through the document's form, the frame and the
// stresses that are told.
#include "checks/frame/frame_check.hpp"
#include "checks/frame/frame_member.hpp"
#include "scene/press/built_up.hpp"
#include "scene/press/member_solid.hpp"
#include "tests/checks/frame/portal_press.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>

namespace evenclose {

using test::near;
using test::PortalPress;
using test::within;

namespace {

std::vector<Material> as_in_reference() {
    Material wood = *find_material({}, "C24"); // E 11 000, G 690
    wood.name = "wood";
    Material steel = *find_material({}, "S235");
    steel.name = "plate";
    steel.E_MPa = 200000;
    return {wood, steel};
}

Member flitch() {
    return {"flitch",
            {0, 0, 0},
            {1000, 0, 0},
            side_by_side({{TimberSection{38, 140}}, {PlateSection{6, 140}, {}, "plate"}, {TimberSection{38, 140}}}),
            0,
            "wood"};
}

Member plate_under() {
    return {"beam", {0, 0, 0}, {1000, 0, 0}, stacked({{PlateSection{89, 6}, {}, "plate"}, {TimberSection{89, 140}}}),
            0,      "wood"};
}

} // namespace

TEST_CASE("5.11 5.12 flitch and plated beam as members: EI, place of the middle, stress a part") {
    const std::vector<Material> own = as_in_reference();
    const FrameMember one = frame_member(flitch(), own);
    CHECK(within(one.whole.EIu_Nmm2, 4.65565333e11, 1e-8));
    CHECK(within(one.whole.major_Nmm2(), 4.65565333e11, 1e-8));
    CHECK(near(one.principal_rad, 0, 1e-12));
    CHECK(near(one.whole.greatest_stress_MPa(0, 0, 3e6, 0), 4.96171, 5.1e-6));
    CHECK(near(one.whole.greatest_stress_MPa(1, 0, 3e6, 0), 90.21290, 5.1e-6));
    CHECK(one.parts[one.main].material.name == "wood");
    CHECK(one.known());

    const FrameMember other = frame_member(plate_under(), own);
    CHECK(within(other.whole.EIu_Nmm2, 5.44065099e11, 1e-8));
    CHECK(near(other.whole.centroid_mm.y + 73, 44.029197, 5.1e-7)); // from below: the whole is 146 deep
    CHECK(near(other.whole.greatest_stress_MPa(1, 0, 3e6, 0), 6.184989, 5.1e-7));
    CHECK(near(other.whole.greatest_stress_MPa(0, 0, 3e6, 0), 48.555804, 5.1e-7));
}

TEST_CASE("5.11 a cantilever of the flitch bends as its EI says, and weighs what its parts weigh") {
    const std::vector<Material> own = as_in_reference();
    FrameMember part = frame_member(flitch(), own);
    SpaceFrame frame;
    add_beams(frame, part, flitch(), {0, 1000}, 1.0);
    frame.nodes[part.nodes.front()].held = kClamped;
    LoadCase load;
    load.distributed = 0;
    load.actions = {{part.nodes.back(), {{0, 0, -1000}, Vec3{0.0}}}};
    const FrameSolution solution = solve(frame, {load, LoadCase{}});
    const double bending = 1000.0 * 1e9 / (3 * 4.65565333e11); // P L^3 / 3 E I
    const double GA = 5.0 / 6 * (2 * 38 * 140 * own[0].G_MPa + 6 * 140 * own[1].G_MPa);
    CHECK(within(-solution.states[0].motions[part.nodes.back()].move_mm.z, bending + 1000.0 * 1000 / GA, 1e-8));
    const double kg = 1e-9 * 1000 * (2 * 38 * 140 * own[0].density_kg_per_m3 + 6 * 140 * own[1].density_kg_per_m3);
    CHECK(within(solution.states[1].reactions[part.nodes.front()].force_N.z, kg * 9.80665, 1e-9));
}

TEST_CASE("built-up members are drawn part by part: each closed, together as large as they are") {
    const TriangleMesh solid = solid_of(flitch());
    CHECK(within(signed_volume_mm3(solid), (2 * 38 + 6) * 140 * 1000.0, 1e-12));
    const Box box = bounds_of(solid);
    CHECK(near(box.size_mm().y, 82, 1e-9));
    CHECK(near(box.size_mm().z, 140, 1e-9));
    CHECK(size_of(plate_under().section) == Vec2{89, 146});
    CHECK(words_of(plate_under().section) == "89 x 146 of 2 parts");
    CHECK(parts_of(MeshSection{}).empty());
}

TEST_CASE("frame: a press with flitch beams tells which part is used most, and that bolts make it less") {
    PortalPress portal;
    portal.setup.closing_force_N = 40000;
    portal.press.materials = as_in_reference();
    portal.press.materials[0].timber->bearing_across_MPa = 100; // so that bending comes first
    for (const std::size_t i : {0, 1}) {
        portal.press.members[i].section = flitch().section;
        portal.press.members[i].material = "wood";
    }
    const Setup& setup = portal.made();
    const Assembly assembly = assemble(setup);
    const FrameMeasure measure = measure_frame(setup, assembly, measure_pressure(setup, assembly));
    REQUIRE(measure.computed());
    CHECK(measure.stand_ins.empty());
    const auto use =
        std::find_if(measure.uses.begin(), measure.uses.end(), [](const PartUse& u) { return u.part == "head beam"; });
    REQUIRE(use != measure.uses.end());
    CAPTURE(use->by);
    CHECK(use->by.find(" in its ") != std::string::npos);
    const std::vector<Finding> findings = judge(measure, setup, assembly);
    CHECK(findings.front().why.find("bolts make them softer") != std::string::npos);
}

} // namespace evenclose
