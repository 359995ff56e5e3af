#include "scene/motion/assembly.hpp"

#include "scene/press/fittings_solid.hpp"
#include "scene/press/member_solid.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <set>
#include <stdexcept>

using namespace evenclose;
using evenclose::test::within;

namespace {

constexpr double kClosed = 1e-9;

bool near(double a, double b) { return std::abs(a - b) <= 1e-9; }
bool near(const Vec3& a, const Vec3& b) { return glm::distance(a, b) <= 1e-9; }

SharedMesh block(Vec3 low, Vec3 high) {
    const Vec3 size = high - low;
    const Member bar{"",
                     {0.5 * (low.x + high.x), 0.5 * (low.y + high.y), low.z},
                     {0.5 * (low.x + high.x), 0.5 * (low.y + high.y), high.z},
                     TimberSection{size.x, size.y},
                     0,
                     ""};
    return std::make_shared<const TriangleMesh>(solid_of(bar));
}

Jack jack(const char* name, double x) {
    Jack jack;
    jack.name = name;
    jack.foot_mm = {x, 0, 60};
    jack.closed_height_mm = 240;
    jack.parked_mm = 20;
    jack.stroke_mm = 180;
    jack.kind = ScrewJack{{.lead_mm = 6}, 70, 32, 50, 12};
    return jack;
}

/// Two jacks 800 apart; the platen's face at 60 + 240 + 20 + 30 = 350, the head's underside at 620: daylight 270.
std::shared_ptr<Press> press() {
    auto press = std::make_shared<Press>();
    press->members = {{"left post", {-500, 0, 0}, {-500, 0, 800}, TimberSection{89, 89}, 0, "pine"},
                      {"right post", {500, 0, 0}, {500, 0, 800}, TimberSection{89, 89}, 0, "pine"}};
    press->head.size_mm = {900, 300};
    press->head.thickness_mm = 40;
    press->head_underside_z_mm = 620;
    press->platen.centre_mm = {5, -3};
    press->platen.size_mm = {880, 300};
    press->platen.thickness_mm = 30;
    press->platen.material = "S235";
    press->jacks = {jack("left", -400), jack("right", 400)};
    press->guides = {{"left guide", {-470, 0}, 20, 20.5, 40, 60, 30, 200, 620}};
    return press;
}

/// Drawn closed with the seats at -50 and 70: shut height 120. Lop-sided, so that a mirror or a wrong turn shows.
std::shared_ptr<Mold> mold() {
    auto mold = std::make_shared<Mold>();
    mold->name = "Dune deck";
    mold->lower = {MeshHalf{"lower.stl", {}, {}, 0, false}, "PLA", block({-300, -80, -50}, {310, 90, -5}), ""};
    mold->upper = {MeshHalf{"upper.stl", {}, {}, 0, false}, "PETG", block({-305, -85, 6}, {300, 80, 70}), ""};
    return mold;
}

Setup setup(std::shared_ptr<const Press> press = ::press(), std::shared_ptr<const Mold> mold = ::mold()) {
    Setup setup;
    setup.press = std::move(press);
    setup.openings = {{"dune.mold.json", std::move(mold), {12, 7}, 0.0}};
    return setup;
}

const Body& body(const Assembly& assembly, const std::string& name) {
    for (const Body& body : assembly.bodies) {
        if (body.name == name) {
            return body;
        }
    }
    FAIL("no body called " << name);
    throw std::logic_error(name);
}
std::size_t index_of(const Assembly& assembly, const std::string& name) {
    return static_cast<std::size_t>(&body(assembly, name) - assembly.bodies.data());
}
Box box_at(const Assembly& assembly, const std::string& name, double travel_mm) {
    const Body& of = body(assembly, name);
    return bounds_of(*of.mesh, pose_at(assembly.rides[of.ride], of.placement, {travel_mm}));
}

} // namespace

TEST_CASE("daylight, closed and end of stroke, worked by hand") {
    const Assembly a = assemble(setup());
    CHECK(near(a.daylight_mm, 620 - (60 + 240 + 20 + 30)));
    CHECK(near(a.shut_height_mm, 120));
    CHECK(near(a.closed.mm, 270 - 120));
    CHECK(near(a.end_of_stroke.mm, 180 - 20));
    CHECK(near(a.last.mm, 150));
}

TEST_CASE("the stroke is swept to where the first jack ends, if that comes before closed, and never below 0") {
    auto short_stroke = press();
    short_stroke->jacks[1].stroke_mm = 100; // parked 20: 80 left, at half rate 160
    short_stroke->jacks[1].rate = 0.5;
    Assembly a = assemble(setup(short_stroke));
    CHECK(near(a.end_of_stroke.mm, 160));
    short_stroke->jacks[1].rate = 1.0;
    a = assemble(setup(short_stroke));
    CHECK(near(a.end_of_stroke.mm, 80));
    CHECK(near(a.closed.mm, 150)); // beyond reach, and said so
    CHECK(near(a.last.mm, 80));
    CHECK(a.rides[1].knots.back().at.mm == a.end_of_stroke.mm);

    auto low = press();
    low->head_underside_z_mm = 460; // daylight 110, less than the mold
    a = assemble(setup(low));
    CHECK(near(a.closed.mm, -10));
    CHECK(a.last.mm == 0);

    auto spent = press();
    spent->jacks[0].parked_mm = 200; // drawn out further than its stroke
    a = assemble(setup(spent));
    CHECK(near(a.end_of_stroke.mm, -20));
    CHECK(a.last.mm == 0);
    CHECK(near(a.rides[1].lift_mm({50}), 0));
}

TEST_CASE("closed is where the platen has risen daylight less shut height, whatever the jacks' mean rate is") {
    auto slow = press();
    slow->jacks[0].rate = slow->jacks[1].rate = 0.96;
    const Assembly a = assemble(setup(slow));
    CHECK(near(a.closed.mm * 0.96, 150));
    CHECK(near(a.rides[1].lift_mm(a.closed), 150));
}

TEST_CASE("at travel 0 the halves hang and stand on their platens, at closed they meet as drawn") {
    for (const double turn : {0.0, 0.3, std::numbers::pi / 2, std::numbers::pi}) {
        CAPTURE(turn);
        Setup turned = setup();
        turned.openings[0].turn_rad = turn;
        const Assembly a = assemble(turned);
        CHECK(near(box_at(a, "Dune deck lower half", 0).low_mm.z, 350));
        CHECK(near(box_at(a, "Dune deck upper half", 0).high_mm.z, 620));
        CHECK(near(box_at(a, "Dune deck upper half", 150).high_mm.z, 620)); // hangs still

        const Body& lower = body(a, "Dune deck lower half");
        const Body& upper = body(a, "Dune deck upper half");
        const Pose lower_pose = pose_at(a.rides[lower.ride], lower.placement, a.closed);
        const Pose upper_pose = pose_at(a.rides[upper.ride], upper.placement, a.closed);
        for (const Vec3 drawn : {Vec3{0, 0, 0}, Vec3{300, -80, 60}, Vec3{-300, 90, -50}}) {
            CHECK(near(lower_pose.apply(drawn), upper_pose.apply(drawn)));
        }
        // The mold frame's origin stands over the opening's spot, from the platen's middle.
        CHECK(near(lower_pose.apply({0, 0, -50}), Vec3{5 + 12, -3 + 7, 500}));
        // Turned counter-clockwise seen from above: the X axis of the mold goes towards Y.
        CHECK(near(lower_pose.turn({1, 0, 0}), Vec3{std::cos(turn), std::sin(turn), 0}));
    }
}

TEST_CASE("a quarter turn brings a lop-sided half round, not over") {
    Setup turned = setup();
    turned.openings[0].turn_rad = std::numbers::pi / 2;
    const Box box = box_at(assemble(turned), "Dune deck lower half", 0);
    // X -300..310 becomes Y, Y -80..90 becomes -X: about (17, 4).
    CHECK(near(box.low_mm, {17 - 90, 4 - 300, 350}));
    CHECK(near(box.high_mm, {17 + 80, 4 + 310, 350 + 45}));
}

TEST_CASE("blocks stand in for halves: heights plus pressed stack make the shut height") {
    auto blocks = std::make_shared<Mold>();
    blocks->lower = {BlockHalf{{600, 200, 50}, {0, 0}}, "", block({-300, -100, 0}, {300, 100, 50}), ""};
    blocks->upper = {BlockHalf{{600, 200, 60}, {0, 0}}, "", block({-300, -100, 0}, {300, 100, 60}), ""};
    blocks->stack = {std::vector<Ply>(7, Ply{1.5, "", Grain::along}), 0.1, 0};
    const Assembly a = assemble(setup(press(), blocks));
    CHECK(near(a.shut_height_mm, 121.1));
    const double gap =
        box_at(a, "mold upper half", a.closed.mm).low_mm.z - box_at(a, "mold lower half", a.closed.mm).high_mm.z;
    CHECK(near(gap, 11.1)); // what is left between them at closed is the stack
    CHECK_FALSE(body(a, "mold lower half").printed);
    CHECK(body(assemble(setup()), "Dune deck lower half").printed);
}

TEST_CASE("every body where it belongs, at travel 0 and at 100") {
    const Assembly a = assemble(setup());
    struct Row {
        const char* name;
        double low_z, high_z, rises;
    };
    const Row rows[] = {
        {"left post", 0, 800, 0},           {"head", 620, 660, 0},
        {"platen", 320, 350, 100},          {"jack left body", 60, 288, 0},
        {"jack left screw", 110, 320, 100}, {"jack right screw", 110, 320, 100},
        {"left guide post", 200, 620, 0},   {"left guide sleeve", 260, 320, 100},
    };
    for (const Row& row : rows) {
        CAPTURE(row.name);
        CHECK(near(box_at(a, row.name, 0).low_mm.z, row.low_z));
        CHECK(near(box_at(a, row.name, 0).high_mm.z, row.high_z));
        CHECK(near(box_at(a, row.name, 100).low_mm.z, row.low_z + row.rises));
        CHECK(near(box_at(a, row.name, 100).high_mm.z, row.high_z + row.rises));
    }
    CHECK(a.rides[0].fixed());
    for (const RideKnot& knot : a.rides[1].knots) { // along the jacks level; across, what the guide's play lets it rock
        CHECK(knot.slope.high.x == 0);
        CHECK(within(knot.slope.high.y, std::tan(0.0083215994), 1e-8)); // REFERENCE 4.2
    }
    CHECK(body(a, "platen").material == "S235");
    CHECK(near(box_at(a, "platen", 0).centre_mm(), {5, -3, 335}));
}

TEST_CASE("3.1, 3.2 a jack 1 % slow over 120 leaves the platen 1.2 mm lower at its head and tilts it 1.5 mrad") {
    auto uneven = press();
    uneven->jacks[1].rate = 0.99;
    const Assembly a = assemble(setup(uneven));
    const Ride& ride = a.rides[1];
    CHECK(within(ride.slope_range({120}).middle().x, -0.0015, kClosed));
    CHECK(within(ride.lift_mm({120}), 119.4, kClosed));
    // The platen's underside rests on both heads, to the second order of the tilt (1.5e-3^2 / 2 x 400 = 0.0005 mm).
    const Body& platen = body(a, "platen");
    const Pose pose = pose_at(ride, platen.placement, {120});
    CHECK(test::near(pose.apply({-400, 0, 320}).z, 320 + 120, 1e-3));
    CHECK(test::near(pose.apply({400, 0, 320}).z, 320 + 118.8, 1e-3));
    CHECK(near(box_at(a, "jack left screw", 120).high_mm.z, 440));
    CHECK(near(box_at(a, "jack right screw", 120).high_mm.z, 438.8));
    // The lower half goes with it, the upper one does not.
    CHECK(body(a, "Dune deck lower half").ride == 1);
    CHECK(body(a, "Dune deck upper half").ride == 0);
}

TEST_CASE("the platen turns about its underside above the jacks' centroid, and lies on jacks of unlike height from the "
          "start") {
    auto uneven = press();
    uneven->jacks[1].foot_mm.z += 1.2;
    const Assembly a = assemble(setup(uneven));
    CHECK(near(a.rides[1].pivot_mm, {0, 0, 320.6}));
    CHECK(within(a.rides[1].slope_range({0}).middle().x, 0.0015, kClosed));
    CHECK(near(a.daylight_mm, 270 - 0.6));
}

TEST_CASE("rate tolerance opens the slope range with travel") {
    auto loose = press();
    loose->jacks[0].rate_tolerance = loose->jacks[1].rate_tolerance = 0.01;
    const Ride ride = assemble(setup(loose)).rides[1];
    CHECK(ride.slope_range({0}).high.x == 0);
    CHECK(within(ride.slope_range({120}).high.x, 2 * 1.2 / 800, kClosed));
    CHECK(within(ride.slope_range({60}).low.x, -1.2 / 800, kClosed));
    CHECK(ride.slope_range({120}).high.y == ride.slope_range({0}).high.y); // the guides' play does not grow
}

TEST_CASE("names are those of the shop, and each is there once") {
    auto alike = press();
    alike->members[1].name = "left post";
    alike->members.push_back({"", {0, 0, 0}, {0, 0, 50}, TimberSection{20, 20}, 0, ""});
    alike->jacks[1].name = "left";
    alike->guides.push_back(alike->guides[0]);
    alike->guides.back().name.clear();
    const Assembly a = assemble(setup(alike));
    std::set<std::string> names;
    for (const Body& each : a.bodies) {
        CAPTURE(each.name);
        CHECK_FALSE(each.name.empty());
        CHECK(names.insert(each.name).second);
    }
    for (const char* name : {"left post", "left post (2)", "member 3", "jack left screw", "jack left screw (2)",
                             "left guide sleeve", "guide 2 sleeve", "Dune deck upper half"}) {
        CAPTURE(name);
        CHECK(names.count(name) == 1);
    }
}

TEST_CASE("pairs: what moves against each other, less what touches by design") {
    const Assembly a = assemble(setup());
    const auto checked = [&](const char* x, const char* y) {
        const std::size_t i = std::min(index_of(a, x), index_of(a, y));
        const std::size_t j = std::max(index_of(a, x), index_of(a, y));
        const auto pairs = a.moving_pairs();
        return std::count_if(pairs.begin(), pairs.end(),
                             [&](const BodyPair& pair) { return pair.first == i && pair.second == j; });
    };
    CHECK(checked("Dune deck lower half", "Dune deck upper half") == 1);
    CHECK(checked("platen", "left post") == 1);
    CHECK(checked("platen", "head") == 1);
    CHECK(checked("platen", "jack left body") == 1);
    CHECK(checked("platen", "Dune deck upper half") == 1);
    CHECK(checked("Dune deck lower half", "jack left screw") == 1);
    CHECK(checked("left guide sleeve", "left post") == 1);
    CHECK(checked("Dune deck lower half", "left guide post") == 1);
    CHECK(checked("jack left screw", "jack right screw") == 1);

    CHECK(checked("left post", "right post") == 0);           // both stand
    CHECK(checked("head", "Dune deck upper half") == 0);      // both stand
    CHECK(checked("platen", "Dune deck lower half") == 0);    // ride together
    CHECK(checked("platen", "left guide sleeve") == 0);       // ride together
    CHECK(checked("platen", "jack right screw") == 0);        // the head bears on it
    CHECK(checked("jack left body", "jack left screw") == 0); // the screw runs in it
    CHECK(checked("left guide post", "left guide sleeve") == 0);
    CHECK(checked("jack right body", "jack left screw") == 1); // not its own

    CHECK(a.may_touch(index_of(a, "jack left screw"), index_of(a, "platen")));
    CHECK(a.may_touch(index_of(a, "platen"), index_of(a, "jack left screw")));
    CHECK(a.may_touch(index_of(a, "head"), index_of(a, "Dune deck upper half")));
    CHECK_FALSE(a.may_touch(index_of(a, "platen"), index_of(a, "left post")));
    for (const BodyPair& pair : a.moving_pairs()) {
        CHECK(pair.first < pair.second);
    }
}

TEST_CASE("a post that stands in the platen's plate runs through its bore, one beside it must clear it") {
    auto beside = press(); // the post at x -470 of radius 10, the plate ends at -435: beside it
    Assembly a = assemble(setup(beside));
    CHECK_FALSE(a.may_touch(index_of(a, "platen"), index_of(a, "left guide post")));
    beside->guides[0].at_mm = {-442, 0}; // cuts into the edge
    a = assemble(setup(beside));
    CHECK(a.may_touch(index_of(a, "platen"), index_of(a, "left guide post")));
    beside->platen.mesh = block({-440, -150, -30}, {440, 150, 0}); // drawn: its bores are drawn too
    a = assemble(setup(beside));
    CHECK_FALSE(a.may_touch(index_of(a, "platen"), index_of(a, "left guide post")));
}

TEST_CASE("head and platen as meshes hang and lie by the middle of their working face") {
    auto drawn = press();
    drawn->platen.mesh = block({-440, -150, -30}, {440, 150, 0});
    drawn->head.mesh = block({-450, -150, 0}, {450, 150, 55});
    const Assembly a = assemble(setup(drawn));
    CHECK(near(box_at(a, "platen", 0).low_mm, {-435, -153, 320}));
    CHECK(near(box_at(a, "platen", 10).high_mm, {445, 147, 360}));
    CHECK(near(box_at(a, "head", 10).low_mm, {-450, -150, 620}));
    CHECK(near(box_at(a, "head", 10).high_mm.z, 675));
}

TEST_CASE("without a mold the platen closes on the head itself") {
    Setup empty = setup();
    empty.openings.clear();
    const Assembly a = assemble(empty);
    CHECK(a.shut_height_mm == 0);
    CHECK(near(a.closed.mm, 270));
    CHECK(near(a.last.mm, 160));
}

TEST_CASE("a set-up that is not whole is refused with the reason") {
    CHECK_THROWS_AS((void)assemble(Setup{}), std::invalid_argument);
    auto one_jack = press();
    one_jack->jacks.pop_back();
    CHECK_THROWS_WITH_AS((void)assemble(setup(one_jack)), "press: two jacks or more must lift the platen",
                         std::invalid_argument);
    for (const double rate : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN()}) {
        auto still = press();
        still->jacks[0].rate = rate;
        CHECK_THROWS_WITH_AS((void)assemble(setup(still)), "\"left\": the rate must be above 0", std::invalid_argument);
    }
    auto endless = press(); // would make the stroke infinite
    endless->jacks[1].stroke_mm = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH_AS((void)assemble(setup(endless)), "\"right\": a length or a rate is not finite",
                         std::invalid_argument);
    auto unread = mold();
    unread->upper.mesh = nullptr;
    CHECK_THROWS_WITH_AS((void)assemble(setup(press(), unread)), "set-up: a mold was not read", std::invalid_argument);
}
