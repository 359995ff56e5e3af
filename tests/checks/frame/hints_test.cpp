// Hints of the frame check: lateral-torsional buckling and the leg of an angle.
#include "checks/frame/frame_check.hpp"
#include "checks/frame/hints.hpp"
#include "checks/phrase.hpp"
#include "tests/checks/frame/portal_press.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenclose {

using test::PortalPress;
using test::within;

namespace {

FrameMeasure measured(PortalPress& portal) {
    const Setup& setup = portal.made();
    const Assembly assembly = assemble(setup);
    return measure_frame(setup, assembly, measure_pressure(setup, assembly));
}

} // namespace

TEST_CASE(
    "tipping moment of a narrow strip: pi/L sqrt(E I G J) (Timoshenko and Gere, sec. 6.2), thin strip in closed form") {
    // b^3 h / 3 for both J and 4 I of a thin strip: M = pi b^3 h sqrt(E G) / (6 L).
    const double b = 6;
    const double h = 120;
    const double L = 1200;
    const double E = 210000;
    const double G = 81000;
    CHECK(within(tipping_moment_Nmm(E, b * b * b * h / 12, G, b * b * b * h / 3, L),
                 std::numbers::pi * b * b * b * h * std::sqrt(E * G) / (6 * L), 1e-12));
    // Half as long, twice as much.
    CHECK(within(tipping_moment_Nmm(E, 1, G, 1, 0.5 * L), 2 * tipping_moment_Nmm(E, 1, G, 1, L), 1e-12));
}

TEST_CASE("frame: a plate on edge as a head beam is hinted to tip, a tube is not") {
    PortalPress portal;
    portal.setup.closing_force_N = 20000;
    FrameMeasure measure = measured(portal);
    REQUIRE(measure.computed());
    CHECK(std::none_of(measure.hints.begin(), measure.hints.end(),
                       [](const FrameHint& hint) { return hint.kind == FrameHint::Kind::tips; }));
    portal.press.members[1].section = PlateSection{8, 120}; // 8 thick, 120 deep
    measure = measured(portal);
    REQUIRE(measure.computed());
    const auto hint = std::find_if(measure.hints.begin(), measure.hints.end(),
                                   [](const FrameHint& h) { return h.kind == FrameHint::Kind::tips; });
    REQUIRE(hint != measure.hints.end());
    CHECK(hint->part == "head beam");
    const double I = 120.0 * 8 * 8 * 8 / 12;
    const double J = 120.0 * 8 * 8 * 8 / 3 * (1 - 0.63 * 8 / 120); // Roark's short form of Saint-Venant's series
    CHECK(within(hint->allowed, tipping_moment_Nmm(210000, I, 81000, J, PortalPress::kSpan_mm) / 1.67, 1e-3));
    CHECK(hint->use > 1);
    const Setup& setup = portal.made();
    const std::vector<Finding> findings = judge(measure, setup, assemble(setup));
    const auto told = std::find_if(findings.begin(), findings.end(), [](const Finding& finding) {
        return finding.title.find("head beam may tip sideways") == 0;
    });
    REQUIRE(told != findings.end());
    CHECK(told->verdict == Verdict::marginal);
}

TEST_CASE("frame: a post that stands on an angle's leg bends it as a cantilever plate, 6 F e / (b t2)") {
    PortalPress portal;
    portal.setup.closing_force_N = 2000;
    // An angle under the left post's foot in place of the base beam's end: of its own, across the beam.
    Press& press = portal.press;
    const double z = PortalPress::kBase_z_mm + 60;
    press.members[2].a_mm.z = z + 60; // the post ends on the angle's flat leg
    // Legs along u (flat, on the far side of v) and v; with roll pi the flat leg lies on top.
    press.members.push_back({"shelf angle",
                             {-0.5 * PortalPress::kSpan_mm, -60, z + 30},
                             {-0.5 * PortalPress::kSpan_mm, 60, z + 30},
                             AngleSection{100, 60, 6, 0, 0},
                             std::numbers::pi,
                             "S235"});
    const Setup& setup = portal.made();
    const Joints joints = joints_of(press);
    PressFrame model = press_frame(setup, joints, {{0, 0.0}, {1, 0.0}}, {});
    // 5 kN down on the post's middle.
    const FrameMember& post = model.members[2];
    model.jack_actions.push_back({post.nodes[post.nodes.size() / 2], {{0, 0, -5000}, Vec3{0.0}}});
    const std::vector<FrameHint> hints = hints_of(press, joints, stand(std::move(model)));
    const auto leg =
        std::find_if(hints.begin(), hints.end(), [](const FrameHint& h) { return h.kind == FrameHint::Kind::leg; });
    REQUIRE(leg != hints.end());
    CHECK(leg->part == "shelf angle");
    CHECK(leg->other == "left post");
    CHECK(within(leg->allowed, 235 / 1.67, 1e-12));
    // The post's face, 80 wide, stands in the middle of the 100 leg: 50 from the heel's face, 44 from the root; 80 + 2 x 44 bear.
    const double one = 6 * 44 / (168.0 * 36);
    const double force = leg->value / one;
    CHECK(force > 1500); // a part of the 5 kN; the head's corner takes the rest
    CHECK(force < 5400); // and its own weight, and some prying
}

} // namespace evenclose
