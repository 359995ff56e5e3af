// The frame that is made from a press as drawn: joints, loads, contacts.
#include "checks/frame/press_frame.hpp"

#include "checks/frame/stand.hpp"
#include "tests/checks/frame/portal_press.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>
#include <glm/gtc/quaternion.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose {

using test::near;
using test::PortalPress;
using test::within;

namespace {

Member timber(const char* name, Vec3 a, Vec3 b, double width, double depth) {
    return {name, a, b, TimberSection{width, depth}, 0, "C24"};
}

/// Vertical motion of a member's axis at its middle.
double middle_rise_mm(const StoodFrame& stood, std::size_t member) {
    const FrameMember& part = stood.model.members[member];
    const double half = 0.5 * part.at_mm.back();
    for (std::size_t i = 1; i < part.nodes.size(); ++i) {
        if (part.at_mm[i] >= half) {
            const double t = (half - part.at_mm[i - 1]) / (part.at_mm[i] - part.at_mm[i - 1]);
            const auto z = [&](std::size_t n) { return stood.state.motions[part.nodes[n]].move_mm.z; };
            return (1 - t) * z(i - 1) + t * z(i);
        }
    }
    return 0;
}

StoodFrame stood_under(const Setup& setup, double jack_N) {
    const Joints joints = joints_of(*setup.press);
    return stand(press_frame(setup, joints, {{0, jack_N}, {1, jack_N}}, {}));
}

} // namespace

TEST_CASE("joints: a post on a sill, a beam beside it, a gap, a rod through both, turned as a whole they stay") {
    Press press;
    press.head = {{5000, 0}, {100, 100}, 40, "S235", {}, {}, nullptr};
    press.head_underside_z_mm = 900;
    press.members = {timber("sill", {-500, 0, 50}, {500, 0, 50}, 90, 100),
                     timber("post", {100, 0, 100}, {100, 0, 800}, 90, 90),     // stands on the sill
                     timber("rail", {-300, 90, 300}, {300, 90, 300}, 90, 90),  // lies along the post's side
                     timber("far", {-300, 200, 300}, {300, 200, 300}, 90, 90), // 20 beside the rail
                     {"rod", {100, -100, 300}, {100, 200, 300}, PipeSection{16, 8}, 0, "8.8"}};
    const Joints joints = joints_of(press);
    const auto find = [&](const Joints& in, std::size_t a, std::size_t b) {
        const auto at = std::find_if(in.found.begin(), in.found.end(),
                                     [&](const FoundJoint& j) { return j.first == a && j.second == b; });
        return at == in.found.end() ? nullptr : &*at;
    };
    REQUIRE(find(joints, 0, 1) != nullptr);
    CHECK(glm::distance(find(joints, 0, 1)->spots_mm.front(), Vec3{100, 0, 100}) < 1e-9);
    CHECK(within(find(joints, 0, 1)->patch_mm.x * find(joints, 0, 1)->patch_mm.y, 90 * 90, 1e-12));
    CHECK(find(joints, 0, 1)->kind == JointKind::bolted);
    REQUIRE(find(joints, 1, 2) != nullptr);
    CHECK(glm::distance(find(joints, 1, 2)->spots_mm.front(), Vec3{100, 45, 300}) < 1e-9);
    CHECK(find(joints, 0, 2) == nullptr);
    CHECK(find(joints, 2, 3) == nullptr);
    REQUIRE(find(joints, 1, 4) != nullptr);
    CHECK(find(joints, 1, 4)->rod);
    CHECK(std::abs(find(joints, 1, 4)->normal.y) == doctest::Approx(1));

    const Mat3 turn = glm::mat3_cast(glm::angleAxis(0.6, glm::normalize(Vec3{1, 2, 3})));
    Press turned = press;
    for (Member& member : turned.members) {
        // A member that is tilted out of the vertical has its own idea of up: squares and rods look alike all the same.
        member.a_mm = turn * member.a_mm;
        member.b_mm = turn * member.b_mm;
    }
    turned.members[0].section = TimberSection{100, 100};
    const Joints again = joints_of(turned);
    CHECK(find(again, 1, 4) != nullptr);
    CHECK(find(again, 2, 3) == nullptr);
}

TEST_CASE("joints: a document's word stands before the material's, and one that nothing meets is named with its gap") {
    PortalPress portal;
    CHECK(joints_of(portal.press).found.size() == 5); // four corners, and the head under its beam
    CHECK(joints_of(portal.press).found.front().kind == JointKind::welded);
    portal.press.joints = {{"left post", "base beam", JointKind::bearing},
                           {"left post", "head", JointKind::bolted},
                           {"right post", "head beam", JointKind::none}};
    const Joints joints = joints_of(portal.press);
    CHECK(joints.found.size() == 4);
    CHECK(std::count_if(joints.found.begin(), joints.found.end(),
                        [](const FoundJoint& j) { return j.kind == JointKind::bearing && j.stated; }) == 1);
    REQUIRE(joints.apart.size() == 1);
    CHECK(joints.apart.front().find("head and left post") == std::string::npos); // named in the order of the press
    CHECK(joints.apart.front().find("left post and head") == 0);
    CHECK(joints.apart.front().find("{mm:410}") != std::string::npos); // 500 less half the post and half the head
}

TEST_CASE("5.5 a press drawn as a closed ring opens as the ring's formula says, shear of the beams counted") {
    PortalPress portal;
    // Heavy enough that its own weight is nothing beside the load.
    const double P = 6e6;
    const StoodFrame stood = stood_under(portal.made(), 0.5 * P);
    REQUIRE(stood.settled);
    REQUIRE(stood.mechanisms.empty());
    const double E = 210000;
    const double G = 81000;
    const double L = PortalPress::kSpan_mm;
    const double h = PortalPress::kRise_mm;
    const SectionProperties beam = *properties_of(portal.beam);
    const SectionProperties post = *properties_of(portal.post);
    // REFERENCE 5b: closed ring of two beams and two posts; 5a: shear of a centre-loaded beam, W L / (4 G A').
    const double I = beam.Iu_mm4;
    const double k = I / post.Iv_mm4 * h / L;
    const double corner = P * L / (8 * (1 + k));
    const double sag =
        P * L * L * L / (48 * E * I) - corner * L * L / (8 * E * I) + P * L / (4 * G * beam.shear_area_v_mm2);
    const double opening = 2 * sag + 0.5 * P * h / (E * post.area_mm2);
    // The jacks' feet stand 10 either side of the middle: (L - 20)/2 is the shear span at the base.
    CHECK(within(middle_rise_mm(stood, 1) - middle_rise_mm(stood, 0), opening, 0.005));
}

TEST_CASE("equilibrium to 1e-9: what the floor bears is the weight, and the deck bears the jacks less the platen") {
    PortalPress portal;
    const double P = 50000;
    const StoodFrame stood = stood_under(portal.made(), 0.5 * P);
    double floor = 0;
    double deck = 0;
    for (const FrameContact& contact : stood.model.contacts) {
        const double pull = stood.state.spring_forces[contact.spring][0];
        floor += contact.on == FrameContact::On::floor ? pull : 0;
        deck += contact.on == FrameContact::On::deck ? pull : 0;
    }
    const SectionProperties beam = *properties_of(portal.beam);
    const SectionProperties post = *properties_of(portal.post);
    const double steel = 7850e-9 * 9.80665; // N a mm3
    const double plate = 100.0 * 100 * 60 * steel;
    const double frame = 2 * steel * (beam.area_mm2 * PortalPress::kSpan_mm + post.area_mm2 * PortalPress::kRise_mm);
    CHECK(near(-deck, P - plate, 1e-9 * P));
    // Jacks stand on the frame and press against it: only weights reach the floor. The weak rest of what has lifted off,
    // a millionth of its stiffness, counts too.
    CHECK(near(-floor, frame + 2 * plate, 1e-9 * P));
}

TEST_CASE("bearing only pushes: posts under a head beam that lifts are let go, and a bolted one would hold it") {
    PortalPress portal;
    for (const std::size_t post : {2, 3}) { // from face to face, so that they stand and do not pass through
        portal.press.members[post].a_mm.z = PortalPress::kBase_z_mm + 60;
        portal.press.members[post].b_mm.z = PortalPress::kBase_z_mm + PortalPress::kRise_mm - 60;
    }
    portal.press.joints = {{"left post", "head beam", JointKind::bearing},
                           {"right post", "head beam", JointKind::bearing}};
    const StoodFrame loose = stood_under(portal.made(), 25000);
    CHECK(std::count(loose.open.begin(), loose.open.end(), true) >= 2);
    CHECK(middle_rise_mm(loose, 1) > 100); // nothing holds it down
    portal.press.joints.clear();
    CHECK(middle_rise_mm(stood_under(portal.made(), 25000), 1) < 5);
}

TEST_CASE("members afloat, drawn as meshes, or under no jack are named and the rest is computed") {
    PortalPress portal;
    portal.press.members.push_back(timber("shelf", {2000, 0, 400}, {2500, 0, 400}, 40, 40));
    Member bracket{"bracket", {0, 300, 0}, {0, 300, 0}, MeshSection{}, 0, ""};
    portal.press.members.push_back(bracket);
    const PressFrame model = press_frame(portal.made(), joints_of(portal.press), {{0, 1000}, {1, 1000}}, {});
    CHECK(model.afloat == std::vector<std::string>{"shelf"});
    CHECK(model.meshes == std::vector<std::string>{"bracket"});
    CHECK(model.head_held);
    CHECK(model.stands);
    CHECK(model.foot_on_air.empty());
    const StoodFrame stood = stand(model);
    CHECK(stood.mechanisms.empty());
    portal.press.jacks[0].foot_mm.y = 500;
    const PressFrame beside = press_frame(portal.made(), joints_of(portal.press), {{0, 1000}, {1, 1000}}, {});
    CHECK(beside.foot_on_air == std::vector<std::string>{"left jack"});
}

TEST_CASE("the press turned a quarter about the stroke bends alike to 1e-6") {
    PortalPress portal;
    const StoodFrame before = stood_under(portal.made(), 25000);
    for (Member& member : portal.press.members) {
        member.a_mm = {-member.a_mm.y, member.a_mm.x, member.a_mm.z};
        member.b_mm = {-member.b_mm.y, member.b_mm.x, member.b_mm.z};
    }
    for (Jack& jack : portal.press.jacks) {
        jack.foot_mm = {-jack.foot_mm.y, jack.foot_mm.x, jack.foot_mm.z};
    }
    portal.setup.openings = {Opening{{}, nullptr, {0, 0}, glm::radians(90.0)}};
    const StoodFrame after = stood_under(portal.made(), 25000);
    CHECK(within(middle_rise_mm(after, 1), middle_rise_mm(before, 1), 1e-6));
    CHECK(within(middle_rise_mm(after, 0), middle_rise_mm(before, 0), 1e-6));
}

} // namespace evenclose
